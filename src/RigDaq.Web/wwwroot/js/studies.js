// The studies: which there are, which one is worked on, and the plan of the one that is looked at.
import { enter, get, kept, send, studyPath } from './api.js';
import { Corrections } from './corrections.js';
import { $, all, banner, element, say, showItems } from './dom.js';
import { Downloads } from './downloads.js';
import { Earlier } from './earlier.js';
import { Making } from './making.js';
import { Prints } from './prints.js';
import { Questions } from './questions.js';
import { Records } from './records.js';
import { fill, words } from './text.js';

const day = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });
const moment = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });
const at = (format, text) => format.format(new Date(text));
/** @type {import('./views.js').StudiesView} */ let list = null;
/** @type {import('./views.js').StudyPageView} */ let page = null;
const records = new Records(() => load(page.study.id));
const prints = new Prints(() => load(page.study.id));
const questions = new Questions(() => load(page.study.id));
const earlier = new Earlier(() => load(page.study.id));
const downloads = new Downloads();
const corrections = new Corrections(() => load(page.study.id));
const making = new Making(async (id, result) => { await look(id); say($('answer'), result); });

await enter();
await load(new URLSearchParams(location.search).get('study'));

$('work').addEventListener('click', async () => change(await send(studyPath(page.study.id, '/activate'))));

/** The list, and a study: the named one, else the one that is worked on, else the newest. */
async function load(id) {
  try {
    list = await get(`${kept}/studies`);
    const wanted = id ?? list.studies.find(item => item.workedOn)?.id ?? list.studies[0]?.id;
    page = wanted === undefined ? null : await get(studyPath(wanted)).catch(none);
  } catch (fault) { banner(fault.said ?? words.studies.loadAgain); return; }
  banner(list.studies.length === 0 ? words.studies.none : list.mayChange ? null : words.studies.mayLook);
  $('older').textContent = list.older > 0 ? fill(words.studies.older, { n: list.older }) : '';
  showList();
  $('study').hidden = page === null;
  if (page !== null) showStudy();
  making.show(list.mayChange, list.studies.length === 0);
  for (const control of all('.change')) control.disabled = !list.mayChange;
}

/** No such study is no fault here; whatever else there is, is. */
function none(fault) { if (fault.status === 404) return null; throw fault; }

async function look(id) {
  history.replaceState(null, '', `?study=${encodeURIComponent(id)}`);
  say($('answer'), { done: true, message: '' });
  await load(id);
  $('name').focus();
}

function showList() {
  $('studies').replaceChildren(...list.studies.map(item => {
    const row = element('tr', item.id === page?.study.id ? 'now' : ''), name = element('th'), button = element('button', '', item.name);
    button.type = 'button';
    if (item.id === page?.study.id) button.setAttribute('aria-current', 'true');
    button.addEventListener('click', () => look(item.id));
    name.scope = 'row';
    name.append(button, element('span', 'soft', item.id));
    const cell = (label, text, className) => { const made = element('td', className, text); made.dataset.label = label; return made; };
    const mark = element('td');
    if (item.workedOn) mark.append(element('span', 'mark', words.studies.workedOn));
    row.append(name, cell(words.studies.made, at(day, item.createdAt)),
      cell(words.studies.from, item.origin === null ? words.studies.here : fill(words.studies.imported, { day: at(day, item.origin.at) })),
      cell(words.studies.pulled, fill(words.studies.pulledOf, { n: item.pulled, planned: item.planned }), 'number'),
      cell(words.studies.plan, item.frozenAt === null ? words.studies.open : fill(words.studies.frozenOn, { day: at(day, item.frozenAt) })),
        mark);
    return row;
  }));
}

function showStudy() {
  const study = page.study, id = encodeURIComponent(study.id);
  document.title = `${study.name} · RigDaq`;
  $('name').textContent = study.name;
  $('where').textContent = fill(words.studies.where, { id: study.id, day: at(day, study.createdAt) });
  $('standing').textContent = study.workedOn ? (study.chosen ? words.studies.workedOnChosen : words.studies.workedOnNewest)
    : study.origin === null ? words.studies.notWorkedOn : fill(words.studies.notWorkedOnImported, { package: study.origin.package });
  $('work').hidden = study.workedOn;
  $('report-item').hidden = $('runs-item').hidden = study.pulled === 0;
  $('report').href = `/report/${id}`;
  $('runs').href = `/run.html?study=${id}`;
  $('sections').href = `/sections.html?study=${id}`;
  $('labels').href = `/labels/${id}`;
  $('labels-blind').href = `/labels/${id}?blind=yes`;
  $('report-command').textContent = fill(words.studies.reportCommand, { study: study.id });
  $('export-command').textContent = fill(words.studies.exportCommand, { study: study.id });
  $('plan').replaceChildren(...page.plan.flatMap(fact => [element('dt', '', fact.name), element('dd', '', fact.value)]));
  $('comparisons-count').textContent = fill(words.studies.comparisons, { n: page.comparisons.length });
  showItems($('comparisons'), page.comparisons);
  $('frozen').textContent = study.frozenAt === null ? words.studies.notFrozen
    : fill(words.studies.frozen, { moment: at(moment, study.frozenAt) });
  showItems($('findings'), page.findings);
  downloads.show(study.id, list.mayChange);
  questions.show(page);
  prints.show(page);
  records.show(page);
  earlier.show(page, list.studies);
  corrections.show(page);
}

async function change(result) {
  await load(page.study.id);
  say($('answer'), result);
  $('answer').scrollIntoView({ block: 'nearest' });
}


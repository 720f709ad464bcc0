// One run: what the eye saw and whether it is left out before its strength, then everything it rests on; or the list of runs.
import { enter, get, kept, runPath, send, upload } from './api.js';
import { $, all, banner, element, say, showItems } from './dom.js';
import { recall, remember } from './storage.js';
import { NONE, byWhom, figure, fill, fixed, nameUnits, plusMinus, said, shown, units, words } from './text.js';

const ALWAYS = 'rigdaq-show-strength';
const PHOTO_BYTES_MAX = 10 * 1024 * 1024;
const query = new URLSearchParams(location.search);
const runId = query.get('run');
const time = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'medium' });
/** @type {import('./views.js').RunPageView} */ let run = null;
let uncovered = false;

nameUnits();
await enter();
$('always').checked = recall(ALWAYS) === 'yes';
if (runId === null) await showList();
else await load();

$('always').addEventListener('change', () => { remember(ALWAYS, $('always').checked ? 'yes' : 'no'); cover(); });
$('uncover').addEventListener('click', () => { uncovered = true; cover(); $('uncovered').focus({ preventScroll: true }); });
$('look')
  .addEventListener('submit',
  event => change(event, '/inspect', { location: $('location').value, layer: $('layer').value, appearance: $('appearance').value }));
$('void')
  .addEventListener('submit',
  event => change(event, run.void === null ? '/exclude' : '/include', { kind: $('kind').value, text: $('void-text').value }));
$('back')
  .addEventListener('submit',
  event => { if (event.submitter?.value) change(event, '/back', { to: Number(event.submitter.value), text: $('back-text').value });
  else event.preventDefault(); });
$('channel').addEventListener('change', showChannel);
for (const id of ['photo', 'camera']) $(id).addEventListener('change', event => keepPhoto(event.target));

/** The channel that is chosen, drawn below the force. */
function showChannel() {
  const chosen = run.channels[Number($('channel').value)];
  const address =
    runPath(runId, `/channel?channel=${chosen.channel}&over=${chosen.overExtension ? 'extension' : 'time'}`);
  $('channel-picture').hidden = false;
  $('channel-words').textContent = words.run.channelWords;
  $('channel-picture').onerror = () => { $('channel-picture').hidden = true; $('channel-words').textContent = words.run.noChannel; };
  $('channel-picture').alt = chosen.label;
  $('channel-dark').srcset = `${address}&scheme=dark`;
  $('channel-picture').src = address;
}

async function showList() {
  try {
    const study = query.get('study');
    /** @type {import('./views.js').RunsView} */
    const list = await get(study === null ? `${kept}/runs` : `${kept}/runs?study=${encodeURIComponent(study)}`);
    $('list-panel').hidden = false;
    $('list-study').textContent = list.runs.length === 0 ? words.dashboard.noRunYet : list.studyName;
    $('list').replaceChildren(...list.runs.map(item => {
      const row = element('tr', ''), name = element('th'), link = element('a', '', item.specimenId);
      link.href = `/run.html?run=${encodeURIComponent(item.runId)}`;
      name.scope = 'row';
      name.append(link);
      row.append(name, element('td', '', item.group),
        element('td', '', item.voided ? fill(words.run.endingLeftOut, { ending: said(item.ending) }) : said(item.ending)),
        element('td', '', time.format(new Date(item.endedAt))),
        element('td', '', item.looked ? words.run.yes : words.run.notYet), element('td', 'number', String(item.revision)),
          element('td', 'number', String(item.warnings)));
      return row;
    }));
  } catch (fault) { banner(fault.message); }
}

async function load() {
  try {
    run = await get(runPath(runId));
  } catch (fault) { banner(fill(words.run.cannotBeShown, { why: fault.message })); return; }
  $('to-list').hidden = $('run').hidden = false;
  $('to-list').href = `/run.html?study=${encodeURIComponent(run.studyId)}`;
  document.title = `${run.specimenId} · RigDaq`;
  $('title').textContent = fill(words.run.title, { specimen: run.specimenId, ending: said(run.result.ending) });
  $('where').textContent = [run.group, run.studyName, time.format(new Date(run.startedAt)), run.simulated ? words.run.virtual
    : '', run.result.reason].filter(Boolean).join(' · ');
  banner(run.mayChange ? null : words.run.mayLook);
  for (const control of all('.change')) control.disabled = !run.mayChange;
  showLook();
  showVoid();
  showResult();
  facts('section', run.section);
  facts('conditions', run.conditions);
  showRevisions();
  cover();
}

function showLook() {
  $('location').value = run.look?.location ?? '';
  $('layer').value = run.look?.layer ?? '';
  $('appearance').value = run.look?.appearance ?? '';
  const has = run.look?.hasPhoto === true;
  $('photo-link').hidden = !has;
  if (has) $('photo-link').href = $('photo-shown').src = photoOf(run.revision);
}

function showVoid() {
  const voided = run.void !== null;
  $('voided').hidden = !voided;
  if (voided) $('voided').textContent = fill(words.run.leftOutBecause,
    { kind: [...$('kind').options].find(o => o.value === run.void.kind)?.text, text: run.void.text });
  $('void-title').textContent = voided ? words.run.takeBackTitle : words.run.leaveOutTitle;
  $('void-text-name').textContent = voided ? words.run.whyAgain : words.run.inYourOwnWords;
  $('void-go').textContent = voided ? words.run.takeBack : words.run.leaveOut;
  $('void-help').hidden = $('kind-label').hidden = voided;
  $('kind').required = !voided;
  $('kind').value = $('void-text').value = '';
}

function showResult() {
  const result = run.result, [value, spread] = plusMinus(result.strengthMegapascals, result.expandedUncertaintyMegapascals, units.stress);
  $('strength').textContent = value === NONE ? words.shared.noStrength : value;
  if (value !== NONE) $('strength')
    .append(element('small', '',
    `${spread === null ? '' : ` ± ${spread}`}\u202f${units.stress.symbol}${result.extrapolated ? words.shared.extrapolated : ''}`));
  $('strength-words').textContent = spread === null ? '' : words.shared.plusMinus;
  showItems($('warnings'), result.warnings);
  facts('reading', run.reading);
  const budget = run.budget;
  $('budget-box').hidden = budget === null;
  if (budget === null) return;
  const row = (name, ...cells) => { const made = element('tr'), head = element('th', '', name); head.scope = 'row';
    made.append(head, ...cells.map(([cell, number]) => element('td', number ? 'number' : '', cell))); return made; };
  // One digit more than two of the whole, so that the parts can be added up.
  const whole = shown(budget.standardMegapascals, units.stress), decimals = whole > 0 ? 1 - Math.floor(Math.log10(whole)) : 2;
  const part = value => fixed(shown(value, units.stress), decimals + 1);
  $('budget').replaceChildren(...budget.lines.map(line => {
    const made = row(line.assumed ? fill(words.run.assumed, { name: line.name }) : line.name, [line.distribution],
      [part(line.standardMegapascals), true], [fixed(line.sharePercent, 1), true]);
    const cell = element('td', 'share'), bar = element('span', line.assumed ? 'bar-of assumed' : 'bar-of');
    bar.style.width = `${line.sharePercent}%`;
    cell.append(bar);
    made.append(cell);
    return made;
  }));
  $('gains-box').hidden = budget.gains.length === 0;
  showItems($('gains'), budget.gains);
  $('to-origins').href = `/uncertainty.html?run=${encodeURIComponent(run.runId)}`;
  $('budget-sum').replaceChildren(
    row(words.run.together, [''], [part(budget.standardMegapascals), true], ['100', true], ['']),
    row(words.run.expanded, [''], [figure(budget.expandedMegapascals, units.stress, 1, budget.expandedMegapascals), true], ['', true],
      ['']));
  showItems($('budget-notes'), budget.notes);
}

function showRevisions() {
  $('revisions').replaceChildren(...run.revisions.map(revision => {
    const item = element('li');
    item.append(element('b', '', `${revision.revision} · ${time.format(new Date(revision.at))}`),
      element('span', '', [revision.reason, revision.voided ? words.run.wasLeftOut : '', revision.look, byWhom(revision.by)].filter(Boolean)
        .join(' · ')));
    if (revision.hasPhoto && revision.revision !== run.revision) {
      const link = element('a', '', fill(words.run.photoOf, { n: revision.revision }));
      link.href = photoOf(revision.revision);
      link.target = '_blank';
      item.append(link);
    }
    if (revision.revision === run.revision) item.setAttribute('aria-current', 'true');
    else {
      const button = element('button', 'change', fill(words.run.bringBack, { n: revision.revision })), row = element('div', 'buttons');
      Object.assign(button, { type: 'submit', value: String(revision.revision), disabled: !run.mayChange });
      row.append(button);
      item.append(row);
    }
    return item;
  }));
  $('back-text').value = '';
}

/** Who knows the figure judges the piece by it: covered until it was looked at, where there is something to look at. */
function cover() {
  if (run === null) return;
  const covered = run.judgeable && !run.looked && !uncovered && !$('always').checked;
  $('cover').hidden = !covered;
  $('uncovered').hidden = covered;
  if (covered) return;
  const address = runPath(runId, `/trace?revision=${run.revision}`);
  if ($('trace').getAttribute('src') === address) return;
  $('trace').hidden = false;
  $('trace').onerror = () => { $('trace').hidden = true; $('trace-words').textContent = words.run.noTrace; };
  $('trace-words').textContent = words.run.traceWords;
  $('trace').alt = fill(words.run.traceLabel, { specimen: run.specimenId, ending: said(run.result.ending) });
  $('trace-dark').srcset = `${address}&scheme=dark`;
  $('trace').src = address;
  $('channels-box').hidden = run.channels.length === 0;
  $('channel')
    .replaceChildren(...run.channels.map((channel, i) => Object.assign(element('option', '', channel.name), { value: String(i) })));
  if (run.channels.length > 0) showChannel();
}

async function change(event, what, ask) {
  event.preventDefault();
  await tell(await send(runPath(runId, what), ask, run.revision));
}

async function keepPhoto(input) {
  const file = input.files[0];
  if (!file) return;
  const result = file.size > PHOTO_BYTES_MAX ? { done: false, message: words.run.photoTooLarge }
    : await upload(photoOf(run.revision), file, undefined, words.run.photoNoAnswer);
  input.value = '';
  await tell(result, true);
}

/** Says what became of it and shows the run as it is now; what was typed stays where it was refused. */
async function tell(result, keepTyped = false) {
  const typed = result.done && !keepTyped ? null : ['location', 'layer', 'appearance', 'kind', 'void-text', 'back-text']
    .map(id => [id, $(id).value]);
  await load();
  for (const [id, value] of typed ?? []) $(id).value = value;
  say($('answer'), result);
  $('answer').focus();
}

function photoOf(revision) { return runPath(runId, `/photo?revision=${revision}`); }

function facts(id, list) {
  $(id)
    .replaceChildren(...(list.length === 0 ? [element('dt', '', words.run.nothingIsKnown), element('dd')]
    : list.flatMap(fact => [element('dt', '', fact.name), element('dd', '', fact.value)])));
}

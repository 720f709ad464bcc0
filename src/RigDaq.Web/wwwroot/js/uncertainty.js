// Where an uncertainty comes from, at a force and a section that a person chooses.
import { enter, get, kept } from './api.js';
import { $, element, say, showItems } from './dom.js';
import { fill, fixed, nameUnits, shown, stored, units, words } from './text.js';

const stages = {
  Calibration: words.uncertainty.stageCalibration,
  Zero: words.uncertainty.stageZero,
  Peak: words.uncertainty.stagePeak,
  Section: words.uncertainty.stageSection,
  Caliper: words.uncertainty.stageCaliper,
  Alignment: words.uncertainty.stageAlignment,
};
const runId = new URLSearchParams(location.search).get('run') ?? '';
const FIELDS = { force: units.force, width: units.length, thickness: units.length, step: null, error: null, bending: null };
const day = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });

nameUnits();
await enter();
if (runId !== '') {
  $('to-run').hidden = false;
  $('to-run').href = `/run.html?run=${encodeURIComponent(runId)}`;
}
await ask({});
$('ask').addEventListener('submit', event => { event.preventDefault(); send(); });

/** What was typed, in N and mm; null where a field is no figure. */
function typed() {
  const asked = { asked: '1' };
  for (const [name, unit] of Object.entries(FIELDS)) {
    const text = $(name).value.trim().replace(',', '.');
    if (text === '') continue;
    const value = Number(text);
    $(name).setAttribute('aria-invalid', String(!Number.isFinite(value)));
    if (!Number.isFinite(value)) { tell(fill(words.uncertainty.noNumber, { text }), true); $(name).focus(); return null; }
    asked[name] = String(unit === null ? value : stored(value, unit));
  }
  return asked;
}

async function send() {
  const asked = typed();
  if (asked !== null && await ask(asked)) $('whole').focus();
}

async function ask(asked) {
  const query = new URLSearchParams({ run: runId, ...asked });
  try {
    show(await get(`${kept}/uncertainty?${query}`), query);
    return true;
  } catch (fault) { tell(fault.said ?? words.shared.noAnswer, true); return false; }
}

/** @param {import('./views.js').OriginsView} told */
function show(told, query) {
  tell('', false);
  const put = (name, value, unit, decimals) => { $(name).value = value === null ? ''
    : String(Number((unit === null ? value : shown(value, unit)).toFixed(decimals))); };
  put('force', told.forceNewtons, units.force, 3);
  put('width', told.widthMillimetres, units.length, 4);
  put('thickness', told.thicknessMillimetres, units.length, 4);
  put('step', told.stepMillimetres, null, 4);
  put('error', told.caliperErrorMillimetres, null, 4);
  put('bending', told.bendingPercent, null, 2);
  $('told').hidden = false;
  $('whole').textContent = fill(told.ofStrength ? words.uncertainty.ofStrength : words.uncertainty.ofForce,
    { force: `${$('force').value}\u202f${units.force.symbol}`, percent: percent(told.expandedPercent) });
  $('from').textContent = fill(told.specimen ? words.uncertainty.fromRun : words.uncertainty.from,
    { calibration: told.calibration, day: told.acceptedAt === null ? '' : day.format(new Date(told.acceptedAt)), specimen: told.specimen });
  $('picture').src = `${kept}/uncertainty/picture?${query}`;
  $('picture-dark').srcset = `${kept}/uncertainty/picture?${query}&scheme=dark`;
  $('picture-narrow').srcset = `${kept}/uncertainty/picture?${query}&narrow=1`;
  $('picture-narrow-dark').srcset = `${kept}/uncertainty/picture?${query}&narrow=1&scheme=dark`;
  $('picture').alt = told.lines.map(line => `${named(line)} ${fixed(line.sharePercent, 1)} %`).join('; ');
  $('gains')
    .replaceChildren(...told.gains.map(gain =>
    element('li', '', fill(words.uncertainty.gain, { advice: gain.advice, percent: percent(gain.expandedPercent) }))));
  $('no-gain').hidden = told.gains.length > 0;
  $('lines').replaceChildren(...told.lines.map(line => {
    const row = element('tr'), name = element('th', '', named(line));
    name.scope = 'row';
    row.append(name, element('td', '', stages[line.stage]), element('td', 'number', fixed(line.standardPercent, 3)),
      element('td', 'number', fixed(line.sharePercent, 1)));
    return row;
  }));
  $('notes-title').hidden = told.notes.length === 0;
  showItems($('notes'), told.notes);
}

function named(line) { return line.assumed ? fill(words.run.assumed, { name: line.name }) : line.name; }

/** Two significant figures. */
function percent(value) { return fixed(value, Math.max(0, 1 - Math.floor(Math.log10(value)))); }

function tell(message, bad) { say($('answer'), { done: !bad, message }); }

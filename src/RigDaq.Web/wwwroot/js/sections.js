// Sections by keyboard, one piece after another. What is typed is in the unit that was chosen; what is kept is in mm.
import { enter, get, kept, send, studyPath } from './api.js';
import { $, all, banner, element, say } from './dom.js';
import { recall, remember } from './storage.js';
import { NONE, figure, fill, nameUnits, shown, stored, units, words } from './text.js';

const CHOICES = ['way', 'readings', 'resolution', 'order'];
const RESOLUTION_MILLIMETRES = 0.01;
const READINGS_MAX = 9;
const study = new URLSearchParams(location.search).get('study');
/** @type {import('./views.js').SectionsView} */ let list = null;
/** @type {import('./views.js').SectionItem} */ let piece = null;
let asked = null;

const length = name => ({ name, unit: units.length, symbol: units.length.symbol });
const uncertaintyOf = field =>
  ({ ...field, key: `u-${field.key}`, words: fill(words.sections.uncertainty, { unit: field.symbol }), optional: true });
const withUncertainty = fields => fields.flatMap(field => [field, uncertaintyOf(field)]).map(named);
const named = field =>
  ({ ...field, words: field.words
  ?? fill(field.n === undefined ? words.sections.field : words.sections.fieldNumbered, { ...field, unit: field.symbol }) });

/** What a way of measuring asks for, one field after another. */
const ways = {
  linear: () => [{ key: 'width', ...length(words.sections.width) }, { key: 'thickness', ...length(words.sections.thickness) }]
    .flatMap(field => Array.from({ length: readings() }, (_, i) => named({ ...field, n: readings() > 1 ? i + 1 : undefined }))),
  area: () => withUncertainty([{ key: 'area', name: words.sections.area, unit: units.area, symbol: units.area.symbol }]),
  mass: () =>
    withUncertainty([{ key: 'mass', name: words.sections.mass, symbol: 'g' }, { key: 'length', ...length(words.sections.length) },
    { key: 'density', name: words.sections.density, symbol: 'g/cm³' }]),
};

await enter();
nameUnits();
recallChoices();
await load();

$('measure').addEventListener('submit', keep);
$('skip').addEventListener('click', () => show(next(piece)));
$('fields').addEventListener('keydown', event => {
  if (event.key !== 'Enter') return;
  const fields = all('input', $('fields')), after = fields[fields.indexOf(event.target) + 1];
  if (after === undefined) return; // The last one keeps.
  event.preventDefault();
  after.focus();
  after.select();
});
$('fields').addEventListener('input', () => { asked = null; tellArea(); });
for (const id of CHOICES) $(id).addEventListener('change', () => { remember(keyOf(id), $(id).value); showList(); show(piece); });

async function load(chosen = first) {
  try {
    list = await get(study === null ? `${kept}/sections` : `${kept}/sections?study=${encodeURIComponent(study)}`);
  } catch (fault) { banner(fault.said ?? words.sections.loadAgain); return; }
  banner(list.specimens.length === 0 ? words.sections.noStudy
    : list.mayChange ? null : words.sections.mayLook);
  $('study').textContent = list.studyName;
  showList();
  show(chosen());
}

function ordered() {
  const byPrint = (a, b) => a.printId.localeCompare(b.printId) || a.specimenId.localeCompare(b.specimenId);
  return [...list.specimens].sort($('order').value === 'break' ? (a, b) => a.order - b.order : byPrint);
}

function first() { return ordered().find(item => item.section === null) ?? null; }

/** The next one that is still to be measured, round the end to the beginning. */
function next(after) {
  const all = ordered(), at = all.findIndex(item => item.specimenId === after?.specimenId);
  return [...all.slice(at + 1), ...all.slice(0, at)].find(item => item.section === null) ?? null;
}

function show(item) {
  piece = item;
  asked = null;
  $('measure').hidden = item === null || !list.mayChange;
  $('done').hidden = item !== null || list.specimens.length === 0;
  for (const row of $('list').children) row.classList.toggle('now', row.dataset.id === item?.specimenId);
  if ($('measure').hidden) return;
  $('piece').textContent = item.specimenId;
  $('piece-words').textContent = fill(item.section === null ? words.sections.piece : words.sections.again,
    { print: item.printId, order: item.order });
  $('fields').replaceChildren(...ways[$('way').value]().map(field => {
    const label = element('label', '', field.words), input = element('input', 'change');
    Object.assign(input, { type: 'text', inputMode: 'decimal', autocomplete: 'off', required: !field.optional });
    input.dataset.key = field.key;
    label.append(input);
    return label;
  }));
  tellArea();
  $('fields').querySelector('input').focus();
}

async function keep(event) {
  event.preventDefault();
  if ($('fields').querySelector('input').readOnly) return;
  const section = typed();
  if (typeof section === 'string') { tell({ done: false, message: section }); return; }
  const question = JSON.stringify([piece.specimenId, section]);
  // What is typed before the answer is there belongs to no piece.
  for (const input of all('input', $('fields'))) input.readOnly = true;
  const result = await send(studyPath(list.studyId, '/sections'), { specimen: piece.specimenId, ...section, sure: asked === question });
  tell(result);
  for (const input of all('input', $('fields'))) input.readOnly = false;
  if (!result.done) { asked = question; return; }
  const kept = piece.specimenId;
  await load(() => next({ specimenId: kept }));
}

/** What stands in the fields, in mm, mm², g; or in words what is wrong with it. */
function typed() {
  const fields = ways[$('way').value](), inputs = all('input', $('fields')), values = {};
  for (const [i, field] of fields.entries()) {
    const text = inputs[i].value.trim().replace(',', '.').replace(/\s*(mm²?|in²?|g)$/i, '');
    if (text === '' && field.optional) continue;
    const value = Number(text);
    if (text === '' || !Number.isFinite(value)) { inputs[i].focus(); return fill(words.sections.numberExpected, { field: field.words }); }
    (values[field.key] ??= []).push(field.unit ? stored(value, field.unit) : value);
  }
  const one = key => values[key]?.[0];
  if ($('way').value === 'area') return { areaSquareMillimetres: one('area'), areaStandardUncertaintySquareMillimetres: one('u-area')
    ?? null };
  if ($('way').value === 'mass') {
    return { massGrams: one('mass'), massStandardUncertaintyGrams: one('u-mass') ?? 0, lengthMillimetres: one('length'),
      lengthStandardUncertaintyMillimetres: one('u-length') ?? 0,
      densityGramsPerCubicCentimetre: one('density'), densityStandardUncertaintyGramsPerCubicCentimetre: one('u-density') ?? 0 };
  }
  return { widthsMillimetres: values.width, thicknessesMillimetres: values.thickness,
    resolutionMillimetres: stored(resolution(), units.length) };
}

/** The area while it is typed, so that a slipped decimal point is seen. */
function tellArea() {
  const section = $('way').value === 'linear' && all('input', $('fields')).every(input => input.value.trim() !== '') ? typed() : '';
  const mean = values => values.reduce((sum, value) => sum + value, 0) / values.length;
  $('area').textContent = typeof section === 'string' ? ''
    : `${figure(mean(section.widthsMillimetres) * mean(section.thicknessesMillimetres), units.area, 2)} ${units.area.symbol}`;
}

function showList() {
  const measured = list.specimens.filter(item => item.section !== null).length;
  $('progress').textContent = list.specimens.length === 0 ? '' : fill(words.sections.progress, { n: measured, all: list.specimens.length });
  $('list').replaceChildren(...ordered().map(item => {
    const row = element('tr'), name = element('th'), button = element('button', '', item.specimenId);
    row.dataset.id = item.specimenId;
    button.type = 'button';
    button.disabled = !list.mayChange;
    button.addEventListener('click', () => show(item));
    name.scope = 'row';
    name.append(button);
    const lengths = values => values?.length > 0 ? values.map(value => figure(value, units.length, 2)).join(' · ') : NONE;
    row.append(name, element('td', '', item.printId), element('td', 'number', String(item.order)),
      element('td', 'number', lengths(item.section?.widthsMillimetres)),
      element('td', 'number', lengths(item.section?.thicknessesMillimetres)),
      element('td', 'number', figure(item.areaSquareMillimetres, units.area, 2, 2 * item.standardUncertaintySquareMillimetres)),
        element('td', '', item.pulled ? words.sections.yes : ''));
    return row;
  }));
}

function tell(result) {
  say($('answer'), result);
  if (!result.done) $('answer').scrollIntoView({ block: 'nearest' });
}

function readings() { return Math.min(READINGS_MAX, Math.max(1, Math.trunc(Number($('readings').value)) || 1)); }

function resolution() {
  const value = Number($('resolution').value.replace(',', '.'));
  return value >= 0 && Number.isFinite(value) && $('resolution').value.trim() !== '' ? value : shown(RESOLUTION_MILLIMETRES, units.length);
}

function keyOf(id) { return `rigdaq-section-${id}-${units.length.symbol}`; }

function recallChoices() {
  $('resolution').value = String(Number(shown(RESOLUTION_MILLIMETRES, units.length).toPrecision(2)));
  for (const id of CHOICES) {
    const before = recall(keyOf(id));
    if (before !== null) $(id).value = before;
  }
}

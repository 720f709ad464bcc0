// A guided calibration: what to hang now, what the signal does, what was found. The daemon decides; this page shows and asks.
import { command, enter, get } from './api.js';
import { rig } from './rig.js';
import { $, all, banner, element, say, setText } from './dom.js';
import { Sound } from './sound.js';
import { recall, remember } from './storage.js';
import { NONE, decimalsOf, figure, fill, fixed, force, nameUnits, said, shown, stored, units, withUnit, words } from './text.js';

const LOOK_MILLISECONDS = 250;
const LOOK_ANSWER_MILLISECONDS = 2000;
const STORE = 'rigdaq-weights';
const BASES = [['own', words.calibrate.myOwn], ['certificate', words.calibrate.byCertificate], ...['E2', 'F1', 'F2', 'M1', 'M2', 'M3']
  .map(name => [name, fill(words.calibrate.byClass, { name })])];
const SVG = 'http://www.w3.org/2000/svg';
const OVER = ['none', 'accepted', 'given up'];

const sound = new Sound($('sound'));
let looking = false, heard = 0, lastWord = null, editing = true, fitKey = '', proposed = false;

nameUnits();
await enter();
await fillSite();
for (const weight of storedWeights()) addWeight(weight);
$('add-weight').addEventListener('click', () => addWeight({}).querySelector('input').focus());
$('setup').addEventListener('submit', begin);
$('accept').addEventListener('click', accept);
for (const button of all('[data-action]')) {
  button.addEventListener('click',
    async () => say($('guide-answer'), await command('calibration/step', { action: button.dataset.action })));
}
setInterval(look, LOOK_MILLISECONDS);
look();

async function look() {
  if (looking) return;
  looking = true;
  try {
    render(await get(`${rig}/calibration?degree=${$('degree').value}`, LOOK_ANSWER_MILLISECONDS));
    heard = performance.now();
  } catch { /* The banner below says so. */ }
  looking = false;
  banner(performance.now() - heard > 3000 ? words.calibrate.late : null, true);
}

/** @param {import('./views.js').CalibrationView} view */
function render(view) {
  const over = OVER.includes(view.phase);
  if (!over) editing = false;
  if (view.phase !== 'review') proposed = false;
  $('setup').hidden = !(editing || over);
  $('guide').hidden = over;
  $('words-panel').hidden = view.phase === 'none';
  const inReview = view.phase === 'review' || view.phase === 'accepted';
  $('review').hidden = !inReview;
  showWords(view.prompts);
  if (inReview) showFit(view);
  if (over) return;
  setText('instruction', view.instruction);
  setText('phase', [said(view.phase), view.series && fill(words.calibrate.series, { name: view.series })].filter(Boolean).join(', '));
  $('guide-band').className = `stage ${view.phase === 'asking' || view.rejected ? 'asks' : view.still ? 'still' : ''}`;
  const inNewtons = view.forceNewtons !== null;
  setText('guide-force', inNewtons ? force(view.forceNewtons) : fixed(view.counts, 0));
  setText('guide-unit', inNewtons ? units.force.symbol : words.shared.counts);
  $('guide-force').parentElement.classList.toggle('is-counts', !inNewtons);
  setText('wanted', view.wantedNewtons === null ? NONE : withUnit(figure(view.wantedNewtons, units.force, 2), units.force.symbol));
  setText('still', view.still ? words.calibrate.still : words.calibrate.moving);
  setText('waited', view.waitSeconds === null ? NONE
    : fill(words.calibrate.waited, { seconds: fixed(view.waitedSeconds ?? 0, 0), all: fixed(view.waitSeconds, 0) }));
  $('guide-progress').max = Math.max(1, view.total);
  $('guide-progress').value = view.done;
  const limit = view.driftLimitCountsPerMinute === null ? ''
    : fill(words.calibrate.driftLimit, { counts: fixed(view.driftLimitCountsPerMinute, 0) });
  const drift = view.driftCountsPerMinute === null ? ''
    : fill(words.calibrate.drift, { counts: fixed(view.driftCountsPerMinute, 0), limit });
  setText('guide-counts', fill(words.calibrate.counts, { done: view.done, total: view.total, counts: fixed(view.counts, 0), drift }));
  show('turn-sign', view.phase === 'asking');
  show('take-anyway', view.rejected);
  show('skip-warm-up', view.phase === 'warming up');
  show('skip-dwell', view.phase === 'reading the creep');
  show('pause', view.phase !== 'paused' && view.phase !== 'review');
  show('resume-guide', view.phase === 'paused');
  show('go-back', view.phase !== 'paused' && view.phase !== 'review' && view.done > 0);
  show('restart', view.phase === 'waiting for the weights');
}

/** @param {import('./views.js').PromptView[]} prompts */
function showWords(prompts) {
  const newest = prompts.length > 0 ? prompts[prompts.length - 1].number : 0;
  if (newest === lastWord) return;
  const aloud = lastWord !== null ? prompts.filter(p => p.number > lastWord && p.aloud) : [];
  lastWord = newest;
  $('words').replaceChildren(...prompts.toReversed().map(p => element('li', p.kind, p.text)));
  if (aloud.some(p => p.kind === 'rejected' || p.kind === 'question')) sound.held();
  else if (aloud.length > 0) sound.tick();
}

/** @param {import('./views.js').CalibrationView} view */
function showFit(view) {
  const fit = view.fit, key = JSON.stringify([fit, view.fitProblem, view.phase]);
  if (key === fitKey) return;
  fitKey = key;
  // The degree that the readings speak for is proposed once; then the person's choice stands.
  if (fit && !proposed) {
    proposed = true;
    $('degree').value = String(fit.advisedDegree);
  }
  $('accept').disabled = fit === null || view.phase === 'accepted';
  setText('class', fit === null ? view.fitProblem : fit.class);
  setText('advice', fit?.degreeAdvice ?? '');
  $('figures').replaceChildren(...(fit?.steps ?? []).map(step => {
    const row = element('tr');
    const decimals = step.expandedUncertaintyPercent > 0 ? decimalsOf(step.expandedUncertaintyPercent) : 2;
    row.append(...[figure(step.referenceNewtons, units.force, 2),
      ...[step.indicationErrorPercent, step.repeatabilityPercent, step.reversibilityPercent,
      step.resolutionPercent, step.expandedUncertaintyPercent].map(value => fixed(value, decimals))]
        .map(cell => element('td', 'number', cell)));
    return row;
  }));
  $('fit-warnings').replaceChildren(...(fit?.warnings ?? []).map(warning => element('li', '', warning)));
  drawResiduals(fit?.residuals ?? []);
}

/** @param {import('./views.js').ResidualView[]} points */
function drawResiduals(points) {
  const box = $('residuals'), width = 640, height = 200, left = 70, right = 20, middle = height / 2;
  box.replaceChildren();
  if (points.length === 0) return;
  const most = Math.max(...points.map(p => Math.abs(shown(p.residualNewtons, units.force))), 1e-9),
    far = Math.max(...points.map(p => shown(p.forceNewtons, units.force)), 1e-9);
  const add = (name, attributes, label) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (label) made.textContent = label;
    box.append(made);
  };
  add('line', { class: 'axis', x1: left, x2: width - right, y1: middle, y2: middle });
  const digits = Math.max(0, 1 - Math.floor(Math.log10(most)));
  for (const sign of [1, -1]) add('text', { x: left - 8, y: middle - sign * 75 + 5, 'text-anchor': 'end' },
    `${sign > 0 ? '+' : '\u2212'}${most.toFixed(digits)}`);
  add('text', { x: left - 8, y: middle + 5, 'text-anchor': 'end' }, `0 ${units.force.symbol}`);
  add('text', { x: width - right, y: height - 6, 'text-anchor': 'end' }, `${far.toFixed(0)} ${units.force.symbol}`);
  for (const p of points) add('circle', { class: 'point', r: 4.5, cx: left + (width - left - right) * shown(p.forceNewtons, units.force)
    / far, cy: middle - 75 * shown(p.residualNewtons, units.force) / most });
}

async function begin(event) {
  event.preventDefault();
  const weights = [...$('weights').children].map(readWeight).filter(weight => weight.kilograms > 0);
  remember(STORE, JSON.stringify(weights));
  lastWord = null;
  fitKey = '';
  const result = await command('calibration/begin', {
    person: $('person').value, place: $('place').value, cell: $('cell').value,
    temperatureCelsius: number('temperature'), fullScaleNewtons: stored(number('full-scale'), units.force),
      nonLinearityPercent: number('non-linearity'),
    nonLinearityOfBestLine: $('best-line').checked, temperaturePercentPerKelvin: number('temperature-effect'),
      temperatureSpreadKelvin: number('temperature-spread'),
    amplifier: $('amplifier').value, remarks: '', leverRatio: number('lever-ratio'), leverStandardUncertainty: number('lever-uncertainty'),
    latitudeDegrees: number('latitude'), heightMetres: number('height'), gravityMetresPerSecondSquared: number('gravity'),
    weights, steps: number('steps') ?? 5, preloadCycles: number('preloads') ?? 3, risingSeries: number('rising') ?? 3,
      fallingSeries: number('falling') ?? 0,
    dwellSeconds: number('dwell') ?? 0, zeroReturnSeconds: number('zero-return') ?? 0, warmUpSeconds: number('warm-up') ?? 60,
    cautionsRead: $('weights-read').checked,
  });
  say($('setup-answer'), result);
  if (result.done) { editing = false; $('setup').hidden = true; await look(); $('instruction').scrollIntoView({ block: 'nearest' }); }
}

async function accept() { say($('review-answer'), await command('calibration/accept', { degree: Number($('degree').value) })); }

async function fillSite() {
  try {
    const site = await get(`${rig}/site`);
    for (const [id, value] of [['latitude', site.latitudeDegrees], ['height', site.heightMetres],
      ['gravity', site.gravityMetresPerSecondSquared]]) $(id).value = value ?? '';
  } catch { /* The person fills it in. */ }
}

function storedWeights() {
  try {
    const kept = JSON.parse(recall(STORE));
    if (Array.isArray(kept) && kept.length > 0) return kept;
  } catch { /* Begins anew. */ }
  return [{}];
}

function addWeight(weight) {
  const row = element('div', 'weight'), field = (label, control, name) => {
    const made = element('label', '', label);
    control.dataset.name = name;
    made.append(control);
    row.append(made);
    return control;
  };
  const input = (type, value) => Object.assign(element('input'), { type, value: value ?? '', step: 'any', min: 0 });
  field(words.calibrate.name, input('text', weight.name ?? fill(words.calibrate.weightNumber, { n: $('weights').children.length + 1 })),
    'name');
  field(words.calibrate.mass, input('number', weight.kilograms), 'kilograms');
  const basis = field(words.calibrate.knownBy, element('select'), 'basis');
  basis.append(...BASES.map(([value, label]) => new Option(label, value, false, value === (weight.basis ?? 'M1'))));
  const off = field(words.calibrate.plusMinusGrams, input('number', weight.plusMinusGrams), 'plusMinusGrams');
  const paper = field(words.calibrate.certificate, input('text', weight.certificate), 'certificate');
  const remove = element('button', '', words.calibrate.remove);
  remove.type = 'button';
  remove.addEventListener('click', () => row.remove());
  row.append(remove);
  const fit = () => {
    off.parentElement.firstChild.textContent = basis.value === 'certificate' ? words.calibrate.certificateGrams
      : words.calibrate.plusMinusGrams;
    off.disabled = basis.value !== 'own' && basis.value !== 'certificate';
    paper.disabled = basis.value !== 'certificate';
  };
  basis.addEventListener('change', fit);
  fit();
  $('weights').append(row);
  return row;
}

function readWeight(row) {
  const value = name => row.querySelector(`[data-name="${name}"]`);
  const off = value('plusMinusGrams');
  return {
    name: value('name').value, kilograms: value('kilograms').valueAsNumber || 0, basis: value('basis').value,
    plusMinusGrams: off.disabled || Number.isNaN(off.valueAsNumber) ? null : off.valueAsNumber, certificate: value('certificate').value,
  };
}

function number(id) { const value = $(id).valueAsNumber; return Number.isNaN(value) ? null : value; }
function show(id, visible) { $(id).hidden = !visible; }

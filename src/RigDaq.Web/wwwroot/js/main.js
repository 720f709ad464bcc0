// Joins the parts: what the daemon says goes to each, and nothing here decides about motion.
import { command, enter, kept, send } from './api.js';
import { Asked } from './asked.js';
import { Cautions } from './cautions.js';
import { $, all, banner, element, say, setText } from './dom.js';
import { showGroups } from './groups.js';
import { Hand } from './hand.js';
import { Link } from './link.js';
import { Sequence } from './sequence.js';
import { Sound } from './sound.js';
import { saidName, sayName } from './storage.js';
import { NONE, figure, fill, fixed, force, nameUnits, said, units, withUnit, words } from './text.js';
import { Trace } from './trace.js';

const MOVING = ['taking up slack', 'pulling', 'returning'];

const trace = new Trace($('trace'));
const sound = new Sound($('sound'));
const asked = new Asked($('asked'));
const cautions = new Cautions();
const sequence = new Sequence(cautions);
const day = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });
/** @type {import('./views.js').HelloView} */ let hello = null;
/** @type {import('./views.js').StateView} */ let before = null;
let key = null, labelled = 0, studyFacts = [], rigFacts = '';

nameUnits();
key = await enter();
const link = new Link({ message: receive, block: block => trace.add(block), late: setLate });
const hand = new Hand(link, cautions);
addEventListener('hashchange', async () => { const result = await enter(); if (result) { key = result; link.again(); } });
for (const span of all('input[name="span"]')) span.addEventListener('change', () => { trace.span = Number(span.value); });

$('who').value = saidName();
$('who').addEventListener('change', () => sayName($('who').value.trim()));
$('log-out').addEventListener('click', async () => { await send(`${kept}/session/log-out`); location.reload(); });
$('replay').addEventListener('click', async () => say($('replay-answer'), await command('replay')));

function receive(message) {
  switch (message.type) {
    case 'hello': greet(message); break;
    case 'study': sequence.study(message); cautions.study(message); showGroups(message); studyFacts = message.facts; rigFacts = ''; break;
    case 'queue': sequence.queue(message); break;
    case 'answer': hand.refused(message.message); break;
    case 'state': render(message); break;
  }
}

/** @param {import('./views.js').HelloView} message */
function greet(message) {
  if (message.units !== units.name) { location.reload(); return; } // Another start of the daemon, with other units.
  hello = message;
  $('rig-name').textContent = message.rigName;
  document.title = `${message.rigName} · RigDaq`;
  cautions.hello(message);
  $('replay').disabled = !message.mayMove;
  // Who logged in has said who they are.
  $('who-box').hidden = !message.atTheRig;
  // Only who came by a log-in is here by TLS.
  $('log-out').hidden = message.atTheRig || location.protocol !== 'https:';
  const refused = key !== null && !key.done ? key.message : null;
  banner(message.mayMove ? null : refused ?? words.dashboard.mayLook, false, 'key');
}

/** @param {import('./views.js').StateView} state */
function render(state) {
  const stage = showStage(state);
  showForce(state);
  chip('chip-link', state.link === 'up' ? 'good' : 'bad', words.dashboard.chipLink, state.link === 'up'
    ? fill(words.dashboard.linkUp, { device: state.device?.name ?? words.dashboard.up, rate: fixed(state.sampleRateHertz, 0) })
    : words.dashboard.down);
  chip('chip-guard', state.guardClosed ? 'good' : 'warn', words.dashboard.guard, state.guardClosed ? words.dashboard.guardClosed
    : words.dashboard.guardOpen, state.guardClosed !== null);
  chip('chip-emergency', state.emergencyStopReleased ? 'good' : 'bad', words.dashboard.emergencyStop, state.emergencyStopReleased
    ? words.dashboard.released : words.dashboard.pressed, state.emergencyStopReleased !== null);
  $('chip-virtual').hidden = state.device?.simulated !== true;
  banner(state.faults.length > 0 ? fill(words.dashboard.stoppedItself, { faults: state.faults.join(' ') }) : null, true, 'faults');
  banner(state.dataTrouble, true, 'data');
  banner(state.link === 'up' && state.calibration === null ? words.dashboard.noCalibration : null, false, 'calibration');
  asked.render(state);
  showFacts(state);
  cautions.render(state);
  sequence.render(state, hello?.mayMove === true);
  hand.render(state);
  const isNew = sequence.result(state.lastRun);
  if (before !== null) announce(before, state, stage, isNew);
  before = state;
}

/** @param {import('./views.js').StateView} state */
function showStage(state) {
  const stage = state.link !== 'up' ? 'lost' : state.sequence?.stage ?? '';
  const motion = state.motion === 'still' ? words.dashboard.nothingMoves
    : fill(words.dashboard.crossheadMoves, { motion: said(state.motion) });
  const announced = state.sequence?.announcedSeconds;
  $('stage-band').dataset.stage = stage;
  setText('stage', stage === 'lost' ? words.dashboard.linkLost : said(stage) || words.dashboard.noSequence);
  setText('reason', stage === 'lost' ? state.linkMessage
    : announced > 0 ? fill(words.dashboard.announced, { seconds: fixed(announced, 0) })
      : state.sequence?.reason || (MOVING.includes(stage) ? '' : motion));
  return stage;
}

/** @param {import('./views.js').StateView} state */
function showForce(state) {
  const isCounts = state.forceNewtons === null && state.counts !== null;
  $('force').textContent = isCounts ? fixed(state.counts, 0) : force(state.forceNewtons);
  $('force-unit').textContent = isCounts ? words.shared.counts : units.force.symbol;
  $('force').parentElement.classList.toggle('is-counts', isCounts);
  const running = state.sequence?.runningMaximumNewtons ?? null;
  setText('peak-name', running !== null ? words.dashboard.peakOfThisPull : words.dashboard.peakOfTheLastPull);
  const last = state.lastRun;
  setText('peak', withUnit(running !== null ? force(running) : figure(last?.peakForceNewtons, units.force, 1, last?.peakExpandedNewtons),
    units.force.symbol));
  $('specimen').textContent = state.sequence?.specimenId ?? NONE;
  if (performance.now() - labelled > 2000) {
    labelled = performance.now();
    $('trace')
      .setAttribute('aria-label',
      fill(words.dashboard.traceLabel, { seconds: trace.seconds, force: $('force').textContent, unit: $('force-unit').textContent }));
  }
}

/** @param {import('./views.js').StateView} was @param {import('./views.js').StateView} is */
function announce(was, is, stage, isNewRun) {
  const old = was.sequence?.stage;
  if (stage === 'taking up slack' && old !== stage) trace.forgetPeak();
  const parted = isNewRun && (is.lastRun.ending === 'broken' || is.lastRun.ending === 'partly broken');
  if (parted) sound.broke();
  if (stage === 'held' && old !== 'held') sound.held();
  const seconds = Math.ceil(is.sequence?.announcedSeconds ?? 0);
  if (seconds > 0 && seconds !== Math.ceil(was.sequence?.announcedSeconds ?? 0)) sound.tick();
}

function setLate(isLate) {
  document.body.classList.toggle('is-late', isLate);
  if (isLate) hand.release();
  banner(isLate ? words.dashboard.late : null, true, 'late');
}

function chip(id, className, name, value, visible = true) {
  const chip = $(id), text = `${name}: ${value}`;
  chip.hidden = !visible;
  if (chip.dataset.text === text) return;
  chip.dataset.text = text;
  chip.className = `chip ${className}`;
  chip.replaceChildren(`${name}: `, element('b', '', value));
}

/**
 * What the rig has to tell of itself, then what the study has.
 * @param {import('./views.js').StateView} state
 */
function factsOf(state) {
  const calibration = state.calibration, facts = [];
  if (calibration !== null) {
    const range = calibration.greatestReferenceNewtons > 0
      ? fill(words.dashboard.calibrationTo, { force: force(calibration.greatestReferenceNewtons), unit: units.force.symbol })
      : words.dashboard.claimed;
    facts.push({ label: words.dashboard.calibration,
      value: fill(words.dashboard.calibrationFact,
      { class: calibration.class ?? words.dashboard.noClass, range, day: day.format(new Date(calibration.validUntil)) }) });
    facts.push({ label: words.dashboard.checkWeight, value: calibration.checkWeight ?? words.dashboard.noCheckWeight });
  }
  if (state.startedBecause !== '') facts.push({ label: words.dashboard.deviceStarted, value: state.startedBecause });
  if (state.linkNotes.length > 0) facts.push({ label: words.dashboard.chipLink, value: state.linkNotes.join(' ') });
  return facts;
}

/** @param {import('./views.js').StateView} state */
function showFacts(state) {
  const facts = [...factsOf(state), ...studyFacts], now = JSON.stringify(facts);
  if (now === rigFacts) return;
  rigFacts = now;
  $('facts').replaceChildren(...facts.map(fact => {
    const made = element('div');
    made.append(element('dt', '', fact.label), element('dd', '', fact.value));
    return made;
  }));
}

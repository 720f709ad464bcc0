// Joins the parts: what the daemon says goes to each, and nothing here decides about motion.
import { enter, say, send } from './api.js';
import { Cautions } from './cautions.js';
import { showGroups } from './groups.js';
import { Hand } from './hand.js';
import { Link } from './link.js';
import { Sequence } from './sequence.js';
import { Sound } from './sound.js';
import { NONE, element, figure, fill, fixed, force, nameUnits, said, units, withUnit, words } from './text.js';
import { Trace } from './trace.js';

const $ = id => document.getElementById(id);
const MOVING = ['taking up slack', 'pulling', 'returning'];

const trace = new Trace($('trace'));
const sound = new Sound($('sound'));
const cautions = new Cautions();
const sequence = new Sequence(cautions);
const banners = new Map();
const day = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });
let hello = null, before = null, key = null, labelled = 0, studyFacts = [], rigFacts = '';

nameUnits();
key = await enter();
const link = new Link({ message: receive, block: block => trace.add(block), late: setLate });
const hand = new Hand(link, cautions);
addEventListener('hashchange', async () => { const result = await enter(); if (result) { key = result; link.again(); } });
for (const span of document.querySelectorAll('input[name="span"]')) span.addEventListener('change', () => { trace.span = Number(span.value); });

$('replay').addEventListener('click', async () => say($('replay-answer'), await send('replay')));

function receive(message) {
  switch (message.type) {
    case 'hello': greet(message); break;
    case 'study': sequence.study(message); cautions.study(message); showGroups(message); studyFacts = message.facts; rigFacts = ''; break;
    case 'queue': sequence.queue(message); break;
    case 'answer': hand.refused(message.message); break;
    case 'state': render(message); break;
  }
}

function greet(message) {
  if (message.units !== units.name) { location.reload(); return; } // Another start of the daemon, with other units.
  hello = message;
  $('rig-name').textContent = message.rigName;
  document.title = `${message.rigName} · RigDaq`;
  cautions.hello(message);
  $('replay').disabled = !message.mayMove;
  const refused = key !== null && !key.done ? key.message : null;
  banner('key', message.mayMove ? null : refused ?? words.dashboard.mayLook, false);
}

function render(state) {
  const stage = showStage(state);
  showForce(state);
  chip('chip-link', state.link === 'up' ? 'good' : 'bad', words.dashboard.chipLink, state.link === 'up' ? fill(words.dashboard.linkUp, { device: state.device?.name ?? words.dashboard.up, rate: fixed(state.sampleRateHertz, 0) }) : words.dashboard.down);
  chip('chip-guard', state.guardClosed ? 'good' : 'warn', words.dashboard.guard, state.guardClosed ? words.dashboard.guardClosed : words.dashboard.guardOpen, state.guardClosed !== null);
  chip('chip-emergency', state.emergencyStopReleased ? 'good' : 'bad', words.dashboard.emergencyStop, state.emergencyStopReleased ? words.dashboard.released : words.dashboard.pressed, state.emergencyStopReleased !== null);
  $('chip-virtual').hidden = state.device?.simulated !== true;
  banner('faults', state.faults.length > 0 ? fill(words.dashboard.stoppedItself, { faults: state.faults.join(' ') }) : null, true);
  banner('data', state.dataTrouble, true);
  banner('calibration', state.link === 'up' && state.calibration === null ? words.dashboard.noCalibration : null, false);
  showFacts(state);
  cautions.render(state);
  sequence.render(state, hello?.mayMove === true);
  hand.render(state);
  const isNew = sequence.result(state.lastRun);
  if (before !== null) announce(before, state, stage, isNew);
  before = state;
}

function showStage(state) {
  const stage = state.link !== 'up' ? 'lost' : state.sequence?.stage ?? '';
  const motion = state.motion === 'still' ? words.dashboard.nothingMoves : fill(words.dashboard.crossheadMoves, { motion: said(state.motion) });
  const announced = state.sequence?.announcedSeconds;
  $('stage-band').dataset.stage = stage;
  setText('stage', stage === 'lost' ? words.dashboard.linkLost : said(stage) || words.dashboard.noSequence);
  setText('reason', stage === 'lost' ? state.linkMessage
    : announced > 0 ? fill(words.dashboard.announced, { seconds: fixed(announced, 0) })
      : state.sequence?.reason || (MOVING.includes(stage) ? '' : motion));
  return stage;
}

function showForce(state) {
  const isCounts = state.forceNewtons === null && state.counts !== null;
  $('force').textContent = isCounts ? fixed(state.counts, 0) : force(state.forceNewtons);
  $('force-unit').textContent = isCounts ? words.shared.counts : units.force.symbol;
  $('force').parentElement.classList.toggle('is-counts', isCounts);
  const running = state.sequence?.runningMaximumNewtons ?? null;
  setText('peak-name', running !== null ? words.dashboard.peakOfThisPull : words.dashboard.peakOfTheLastPull);
  const last = state.lastRun;
  setText('peak', withUnit(running !== null ? force(running) : figure(last?.peakForceNewtons, units.force, 1, last?.peakExpandedNewtons), units.force.symbol));
  $('specimen').textContent = state.sequence?.specimenId ?? NONE;
  if (performance.now() - labelled > 2000) {
    labelled = performance.now();
    $('trace').setAttribute('aria-label', fill(words.dashboard.traceLabel, { seconds: trace.seconds, force: $('force').textContent, unit: $('force-unit').textContent }));
  }
}

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
  banner('late', isLate ? words.dashboard.late : null, true);
}

function chip(id, className, name, value, visible = true) {
  const chip = $(id), text = `${name}: ${value}`;
  chip.hidden = !visible;
  if (chip.dataset.text === text) return;
  chip.dataset.text = text;
  chip.className = `chip ${className}`;
  chip.replaceChildren(`${name}: `, element('b', '', value));
}

function banner(name, text, bad) {
  if (banners.get(name) === text) return;
  banners.set(name, text);
  document.getElementById(`banner-${name}`)?.remove();
  if (!text) return;
  const made = element('p', bad ? 'banner bad' : 'banner', text);
  made.id = `banner-${name}`;
  $('banners').append(made);
}

/** What the rig has to tell of itself, then what the study has. */
function factsOf(state) {
  const calibration = state.calibration, facts = [];
  if (calibration !== null) {
    const range = calibration.greatestReferenceNewtons > 0 ? fill(words.dashboard.calibrationTo, { force: force(calibration.greatestReferenceNewtons), unit: units.force.symbol }) : words.dashboard.claimed;
    facts.push({ label: words.dashboard.calibration, value: fill(words.dashboard.calibrationFact, { class: calibration.class ?? words.dashboard.noClass, range, day: day.format(new Date(calibration.validUntil)) }) });
    facts.push({ label: words.dashboard.checkWeight, value: calibration.checkWeight ?? words.dashboard.noCheckWeight });
  }
  if (state.startedBecause !== '') facts.push({ label: words.dashboard.deviceStarted, value: state.startedBecause });
  if (state.linkNotes.length > 0) facts.push({ label: words.dashboard.chipLink, value: state.linkNotes.join(' ') });
  return facts;
}

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

function setText(id, text) { if ($(id).textContent !== text) $(id).textContent = text; }

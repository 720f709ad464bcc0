// What happened in the night: pulls, holds, alarms with what to do, who did what, and how zero, noise and disk went.
import { enter, get, kept } from './api.js';
import { chart } from './chart.js';
import { $, all, banner, element } from './dom.js';
import { offerPush } from './push.js';
import { byWhom, fill, nameUnits, said, shown, units, words } from './text.js';

const deeds = {
  startSequence: words.journal.startSequence,
  resumeSequence: words.journal.resumeSequence,
  skipSpecimen: words.journal.skipSpecimen,
  retrySpecimen: words.journal.retrySpecimen,
  finishSequence: words.journal.finishSequence,
  confirmPull: words.journal.confirmPull,
  confirmOpenGrip: words.journal.confirmOpenGrip,
  takeZero: words.journal.takeZero,
  clearFaults: words.journal.clearFaults,
  findHome: words.journal.findHome,
  moveToGripSeparation: words.journal.moveToGripSeparation,
  allowHandMotion: words.journal.allowHandMotion,
  jog: words.journal.jog,
  stop: words.journal.stop,
  logIn: words.journal.logIn,
  logInRefused: words.journal.logInRefused,
  withdrawLink: words.journal.withdrawLink,
  answerMotion: words.journal.answerMotion,
  beginCalibration: words.journal.beginCalibration,
  acceptCalibration: words.journal.acceptCalibration,
  excludeRun: words.journal.excludeRun,
  includeRun: words.journal.includeRun,
  inspectRun: words.journal.inspectRun,
  keepSection: words.journal.keepSection,
  activateStudy: words.journal.activateStudy,
  makeStudy: words.journal.makeStudy,
  makeAccount: words.journal.makeAccount,
  reviseAccount: words.journal.reviseAccount,
  removeAccount: words.journal.removeAccount,
  hearAlarms: words.journal.hearAlarms,
  hearNoAlarms: words.journal.hearNoAlarms,
};
const moment = new Intl.DateTimeFormat(undefined, { dateStyle: 'short', timeStyle: 'medium' });
const short = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
const EVERY_MILLISECONDS = 30000;
/** @type {import('./views.js').JournalTold} */ let told = null;

nameUnits();
await enter();
await load();
await offerPush();
$('hours').addEventListener('change', load);
$('kinds').addEventListener('change', list);
setInterval(load, EVERY_MILLISECONDS);

async function load() {
  const from = new Date(Date.now() - Number($('hours').value) * 3600000).toISOString();
  try {
    told = await get(`${kept}/journal?from=${encodeURIComponent(from)}`);
    banner(null, true, 'journal');
  } catch (fault) { banner(fault.said ?? words.shared.noAnswer, true, 'journal'); return; }
  count();
  draw('zero', told.zero.map(inForce), 2 + units.force.decimals, words.journal.zero);
  draw('noise', told.noise.map(inForce), 3 + units.force.decimals, words.journal.noise);
  draw('disk', told.disk.map(point => ({ at: Date.parse(point.at), value: point.value / 1000 })), 1, words.journal.disk);
  list();
}

function inForce(point) { return { at: Date.parse(point.at), value: shown(point.value, units.force) }; }

function draw(id, points, decimals, label) {
  chart($(id), points, { decimals, label, none: words.journal.none, moment: at => short.format(new Date(at)) });
}

function count() {
  const pulls = told.endings.reduce((sum, ending) => sum + ending.count, 0);
  const facts = [[words.journal.pulls, pulls], ...told.endings.map(ending => [said(ending.name), ending.count]),
    [words.journal.holds, told.holds], [words.journal.alarms, told.alarms], [words.journal.linksLost, told.linksLost]];
  $('counts').replaceChildren(...facts.map(([name, value]) => {
    const made = element('div');
    made.append(element('dt', '', String(name)), element('dd', '', String(value)));
    return made;
  }));
}

function list() {
  const chosen = all('#kinds input:checked').map(box => box.value);
  const items = told.items.filter(item => chosen.includes(['alarm', 'deed', 'pull'].includes(item.kind) ? item.kind : 'rig'));
  $('none').hidden = items.length > 0;
  $('cut').hidden = !told.isCut;
  $('items').replaceChildren(...items.map(item => {
    const made = element('li', item.kind), time = element('time', '', moment.format(new Date(item.at)));
    time.dateTime = item.at;
    const what = element('span');
    what.append(...parts(item));
    made.append(time, what);
    if (item.remedy !== '') made.append(element('span', 'remedy', item.remedy));
    return made;
  }));
}

/** @param {import('./views.js').JournalItem} item */
function parts(item) {
  if (item.kind === 'pull') {
    const link = element('a', '', item.words);
    link.href = `/run.html?run=${encodeURIComponent(item.run)}`;
    return [link, ` ${said(item.code)}`];
  }
  if (item.kind === 'deed') {
    const who = byWhom(item.by), what = deeds[item.code] ?? fill(words.journal.otherDeed, { code: item.code });
    return [[who, what, item.words].filter(Boolean).join(' · ')];
  }
  if (item.kind === 'alarm') return [element('b', '', item.code), ` · ${item.words}`];
  const name = item.kind === 'link' ? words.journal.linkUp
    : item.code === 'started' ? words.journal.sequenceStarted : words.journal.sequenceFinished;
  return [[name, item.words].filter(Boolean).join(' · ')];
}

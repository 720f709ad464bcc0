// A page that looks on: the force, the state, the trace and the last result, and the stop. It asks for nothing else.
import { get, kept, send } from './api.js';
import { $, banner, setText } from './dom.js';
import { Link } from './link.js';
import { NONE, figure, fill, fixed, force, nameUnits, said, units, withUnit, words } from './text.js';
import { Trace } from './trace.js';

const MOVING = ['taking up slack', 'pulling', 'returning'];
const trace = new Trace($('trace'));
let stageBefore = '', peak = null;

nameUnits();
await comeByLink();
const link = new Link({ message: receive, block: block => trace.add(block), late: setLate });
addEventListener('hashchange', async () => { if (await comeByLink()) link.again(); });

/** Takes what stands behind # in the link, and hides it from the address bar and the history. */
async function comeByLink() {
  const token = new URLSearchParams(location.hash.slice(1)).get('look');
  if (!token) return false;
  history.replaceState(null, '', location.pathname);
  const result = await send(`${kept}/session/look`, { look: token });
  banner(result.done ? null : result.message, true, 'link');
  return result.done;
}

function receive(message) {
  if (message.type === 'hello') {
    if (message.units !== units.name) { location.reload(); return; }
    $('rig-name').textContent = message.rigName;
    document.title = `${message.rigName} · RigDaq`;
    banner(null, true, 'link');
  } else if (message.type === 'state') render(message);
}

/** @param {import('./views.js').StateView} state */
function render(state) {
  const sequence = state.sequence, stage = state.link !== 'up' ? 'lost' : sequence?.stage ?? '';
  $('stage-band').dataset.stage = stage;
  setText('stage', stage === 'lost' ? words.dashboard.linkLost : said(stage) || words.dashboard.noSequence);
  setText('reason', stage === 'lost' ? state.linkMessage
    : sequence?.announcedSeconds > 0 ? fill(words.dashboard.announced, { seconds: fixed(sequence.announcedSeconds, 0) })
      : MOVING.includes(stage) ? '' : sequence?.reason ?? '');
  const isCounts = state.forceNewtons === null && state.counts !== null;
  $('force').textContent = isCounts ? fixed(state.counts, 0) : force(state.forceNewtons);
  $('force-unit').textContent = isCounts ? words.shared.counts : units.force.symbol;
  $('force').parentElement.classList.toggle('is-counts', isCounts);
  if (stage === 'taking up slack' && stageBefore !== stage) { trace.forgetPeak(); peak = null; }
  stageBefore = stage;
  peak = sequence?.runningMaximumNewtons ?? peak;
  setText('peak', withUnit(force(peak), units.force.symbol));
  setText('specimen', sequence?.specimenId ?? NONE);
  const last = state.lastRun;
  setText('last', last === null ? NONE : last.strengthMegapascals === null ? said(last.ending)
    : withUnit(figure(last.strengthMegapascals, units.stress, 1, last.expandedUncertaintyMegapascals), units.stress.symbol));
  setText('progress', sequence === null ? '' : fill(words.access.pulled, { n: sequence.pulled, total: sequence.total }));
  banner(state.faults.length > 0 ? fill(words.dashboard.stoppedItself, { faults: state.faults.join(' ') }) : null, true, 'faults');
}

/** A link that was withdrawn looks like a daemon that went away: it is asked which. */
async function setLate(isLate) {
  document.body.classList.toggle('is-late', isLate);
  banner(isLate ? words.dashboard.late : null, true, 'late');
  if (!isLate) return;
  try {
    await get(`${kept}/rigs/-/state`);
  } catch (fault) {
    // Where nobody answers that is said already.
    if (fault.status === 403) banner(words.access.onlookNoLink, true, 'link');
  }
}

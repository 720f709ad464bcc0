// The sequence: what stands next, what a person may do now, the queue and the last result.
import { command } from './api.js';
import { $, element, say } from './dom.js';
import { NONE, figure, fill, filled, plusMinus, said, units, withUnit, words } from './text.js';

const QUEUE_BEFORE = 4;
const QUEUE_SHOWN = 60;

export class Sequence {
  #cautions; #study = null; #runId = null; #queueKey = '';

  constructor(cautions) {
    this.#cautions = cautions;
    const counts = { broken: $('count-broken'), pulled: $('count-pulled'), total: $('count-total'), skipped: $('count-skipped') };
    $('counts').replaceChildren(...filled(words.dashboard.counts, counts));
    for (const button of ['confirm', 'grip-open', 'resume', 'retry', 'skip', 'finish']) {
      const what = button === 'grip-open' ? 'grip/open' : `sequence/${button}`;
      $(button).addEventListener('click', async () => say($('answer'), await command(what)));
    }
  }

  /** @param {import('./views.js').StudyMessage} message */
  study(message) {
    this.#study = message;
    const left = message.specimensLeft === 0 ? words.dashboard.everySpecimenIsPulled
      : fill(words.dashboard.specimensLeft, { n: message.specimensLeft });
    $('study-name').textContent = message.id === null ? words.dashboard.noStudyYet : `${message.name} · ${left}`;
  }

  /** @param {import('./views.js').StateView} state */
  render(state, mayMove) {
    const sequence = state.sequence, stage = sequence?.stage ?? null;
    const running = sequence !== null && stage !== 'finished';
    const held = stage === 'held';
    this.#show('start', !running && this.#study?.plan != null && !this.#cautions.isOpen, mayMove);
    this.#show('confirm', sequence?.needsConfirmation === true, mayMove);
    this.#show('grip-open', sequence?.needsOpenGrip === true, mayMove);
    this.#show('resume', held, mayMove);
    this.#show('retry', held, mayMove);
    this.#show('skip', held || stage === 'waiting for specimen', mayMove);
    this.#show('finish', running, mayMove);
    $('progress-box').hidden = sequence === null;
    if (sequence === null) return;
    $('progress').max = Math.max(1, sequence.total);
    $('progress').value = sequence.pulled + sequence.skipped;
    $('count-broken').textContent = sequence.broken;
    $('count-pulled').textContent = sequence.pulled;
    $('count-total').textContent = sequence.total;
    $('count-skipped').textContent = sequence.skipped > 0 ? fill(words.dashboard.skipped, { n: sequence.skipped }) : '';
  }

  /** @param {import('./views.js').RunView} run */
  result(run) {
    if (run === null || run.runId === this.#runId) return false;
    this.#runId = run.runId;
    const box = $('result'), rows = element('dl');
    const row = (name, value) => rows.append(element('dt', '', name), element('dd', '', value));
    const [value, spread] = plusMinus(run.strengthMegapascals, run.expandedUncertaintyMegapascals, units.stress);
    const strength = element('p', 'strength', value === NONE ? words.shared.noStrength : value);
    if (value !== NONE) strength.append(element('small', '',
      `${spread === null ? '' : ` ± ${spread}`}\u202f${units.stress.symbol}${run.extrapolated ? words.shared.extrapolated : ''}`));
    row(words.shared.specimen, run.specimenId);
    row(words.dashboard.ending, run.reason ? `${said(run.ending)}: ${run.reason}` : said(run.ending));
    row(words.dashboard.peakForce, withUnit(figure(run.peakForceNewtons, units.force, 1, run.peakExpandedNewtons), units.force.symbol));
    row(words.dashboard.forceAtBreak, withUnit(figure(run.breakForceNewtons, units.force, 1, run.peakExpandedNewtons), units.force.symbol));
    const area = withUnit(figure(run.areaSquareMillimetres, units.area, 2, run.areaExpandedSquareMillimetres), units.area.symbol);
    row(words.dashboard.section, run.areaSquareMillimetres === null ? NONE : `${area}, ${run.sectionBasis}`);
    box.replaceChildren(strength, rows);
    if (spread !== null) box.append(element('p', 'soft', words.shared.plusMinus));
    if (run.warnings.length > 0) {
      const list = element('ul');
      list.append(...run.warnings.map(text => element('li', '', text)));
      box.append(list);
    }
    const link = element('a', '', fill(words.dashboard.lookAtTheRun, { specimen: run.specimenId }));
    link.href = `/run.html?run=${encodeURIComponent(run.runId)}`;
    box.append(link);
    box.classList.remove('flash');
    void box.offsetWidth; // Starts the flash anew.
    box.classList.add('flash');
    return true;
  }

  /** @param {import('./views.js').QueueView} message */
  queue(message) {
    const items = message.specimens, now = Math.max(0, items.findIndex(item => item.state === 'now' || item.state === 'waiting'));
    const from = Math.max(0, Math.min(now - QUEUE_BEFORE, items.length - QUEUE_SHOWN)), shown = items.slice(from, from + QUEUE_SHOWN);
    const key = JSON.stringify([message.sequenceId, from, shown]);
    if (key === this.#queueKey) return;
    this.#queueKey = key;
    const rows = shown.map(item => {
      const row = element('li', item.state === 'now' ? 'now' : '');
      if (item.state === 'now') row.setAttribute('aria-current', 'true');
      row.append(element('span', '', item.id), element('span', 'soft', item.group), element('span', '', said(item.ending ?? item.state)));
      return row;
    });
    if (from > 0) rows.unshift(element('li', 'more soft', fill(words.dashboard.before, { n: from })));
    const after = items.length - from - shown.length;
    if (after > 0) rows.push(element('li', 'more soft', fill(words.dashboard.after, { n: after })));
    $('queue').replaceChildren(...rows);
  }

  #show(id, visible, mayMove) {
    const button = $(id);
    if (button.hidden && visible && id === 'confirm') button.focus({ preventScroll: true });
    button.hidden = !visible;
    button.disabled = !mayMove;
  }
}

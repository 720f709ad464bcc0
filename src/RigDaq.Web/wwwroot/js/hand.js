// Moving by hand: a jog lives only while it is held; whatever takes the hand or the eye away ends it.
import { command } from './api.js';
import { $, say } from './dom.js';
import { figure, fill, shown, stored, units, withUnit, words } from './text.js';

const RENEW_MILLISECONDS = 100; // The rig stops by itself 250 ms after the last one.

export class Hand {
  #link; #cautions; #held = null; #timer = null; #answer = $('hand-answer');

  constructor(link, cautions) {
    this.#link = link;
    this.#cautions = cautions;
    for (const button of [$('jog-apart'), $('jog-together')]) this.#bind(button);
    for (const event of ['blur', 'pagehide']) window.addEventListener(event, () => this.release());
    document.addEventListener('visibilitychange', () => { if (document.hidden) this.release(); });
    // The speeds stay what they are; a person reads them in the chosen unit.
    for (const option of $('jog-speed').options) option.textContent =
      withUnit(`${+shown(Number(option.value), units.speed).toPrecision(2)}`, units.speed.symbol);
    $('grip').step = 10 ** -Math.max(1, units.length.decimals);
    this.#click('home', () => command('home'));
    this.#click('grip-go', () => command('grip-separation', { gripSeparationMillimetres: stored($('grip').valueAsNumber, units.length) }));
    this.#click('zero', () => command('zero'), false);
    this.#click('clear-faults', () => command('faults/clear'), false);
  }

  /** @param {import('./views.js').StateView} state */
  render(state) {
    const canMove = state.device?.canMove === true && state.link === 'up';
    $('hand-reason').textContent = state.device && !state.device.canMove ? words.dashboard.onlyMeasures
      : state.reasonsAgainstHandMotion.join(' ');
    $('hand-reason').hidden = $('hand-reason').textContent === '';
    for (const id of ['jog-apart', 'jog-together', 'grip-go']) $(id).disabled = !canMove;
    $('home').disabled = !canMove || !state.device.canHome;
    $('zero').disabled = state.link !== 'up';
    $('clear-faults').hidden = state.faults.length === 0;
    if (!state.homed && canMove) $('grip-unit').textContent = fill(words.dashboard.findHomeFirst, { unit: units.length.symbol });
    else $('grip-unit').textContent = units.length.symbol;
    $('separation').textContent = withUnit(figure(state.gripSeparationMillimetres, units.length, 2), units.length.symbol);
  }

  /** The daemon refused a jog. */
  refused(message) { this.release(); say(this.#answer, { done: false, message }); }

  release() {
    if (this.#held === null) return;
    clearInterval(this.#timer);
    this.#held.classList.remove('held');
    this.#held = null;
    if (!this.#link.jog(0)) fetch('/api/stop', { method: 'POST', keepalive: true }).catch(() => {});
  }

  #bind(button) {
    const isKey = event => event.key === ' ' || event.key === 'Enter';
    button.addEventListener('pointerdown',
      event => { if (event.button === 0) { button.setPointerCapture(event.pointerId); this.#hold(button); } });
    for (const event of ['pointerup', 'pointercancel', 'lostpointercapture', 'blur']) button.addEventListener(event, () => this.release());
    button.addEventListener('contextmenu', event => event.preventDefault());
    button.addEventListener('keydown', event => { if (isKey(event)) { event.preventDefault(); if (!event.repeat) this.#hold(button); } });
    button.addEventListener('keyup', event => { if (isKey(event)) { event.preventDefault(); this.release(); } });
  }

  #hold(button) {
    this.release();
    if (!this.#cautions.handMotionRead) { this.#cautions.askForHandMotion(button); return; }
    say(this.#answer, { done: true, message: '' });
    const speed = Number(button.dataset.direction) * Number($('jog-speed').value);
    const renew = () => { if (!this.#link.jog(speed)) this.refused(words.dashboard.noLink); };
    this.#held = button;
    button.classList.add('held');
    this.#timer = setInterval(renew, RENEW_MILLISECONDS);
    renew();
  }

  #click(id, act, moves = true) {
    $(id).addEventListener('click', async () => {
      if (moves && !this.#cautions.handMotionRead) { this.#cautions.askForHandMotion($(id)); return; }
      say(this.#answer, await act());
    });
  }
}

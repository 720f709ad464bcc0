// The cautions, read and ticked before anything moves. Not a modal dialogue: that would put the stop out of reach.
import { send, say } from './api.js';
import { element, figure, fixed, units } from './text.js';

const $ = id => document.getElementById(id);

export class Cautions {
  #form = $('cautions'); #purpose = null; #from = null; #calibration = null; #plan = null;
  handMotionRead = false;

  constructor() {
    this.#form.addEventListener('submit', event => { event.preventDefault(); this.#go(); });
    $('cautions-cancel').addEventListener('click', () => this.#close());
    $('start').addEventListener('click', () => this.#open('sequence', $('start')));
  }

  hello(message) {
    $('caution-list').replaceChildren(...message.cautions.map(text => element('li', '', text)));
    $('caution-further').replaceChildren(...message.furtherCautions.map(text => element('li', '', text)));
    this.handMotionRead = false; // Another start of the daemon, perhaps another rig.
  }

  askForHandMotion(from) { this.#open('hand', from); }

  render(state) { this.#calibration = state.calibration; }

  study(message) { this.#plan = message.plan; if (!this.#form.hidden && this.#purpose === 'sequence') this.#describe(); }

  get isOpen() { return !this.#form.hidden; }

  #open(purpose, from) {
    this.#purpose = purpose;
    this.#from = from;
    $('cautions-read').checked = false;
    $('beyond').checked = false;
    this.#form.hidden = false;
    this.#describe();
    this.#form.scrollIntoView({ block: 'nearest' });
    this.#form.focus();
  }

  #describe() {
    const plan = this.#plan, forSequence = this.#purpose === 'sequence';
    $('cautions-go').textContent = forSequence ? 'Start' : 'Allow moving by hand';
    $('plan').textContent = forSequence && plan
      ? `${plan.specimens} specimens at ${figure(plan.speedMillimetresPerSecond, units.speed, 2)} ${units.speed.symbol}, at most ${figure(plan.forceLimitNewtons, units.force, 0)} ${units.force.symbol} and `
        + `${figure(plan.travelLimitMillimetres, units.length, 0)} ${units.length.symbol} each; a pull is announced ${fixed(plan.announcedDelaySeconds, 0)} s before it begins.`
      : '';
    const limit = forSequence ? plan?.forceLimitNewtons ?? 0 : 0;
    const reference = this.#calibration?.greatestReferenceNewtons ?? null;
    const beyond = forSequence ? reference !== null && limit > reference : reference === null;
    $('beyond-box').hidden = !beyond;
    $('beyond-text').textContent = forSequence
      ? `I accept that the calibration ends at ${figure(reference, units.force, 0)} ${units.force.symbol}, below the force limit of ${figure(limit, units.force, 0)} ${units.force.symbol}: forces above it are extrapolated.`
      : 'I accept that no calibration is in force: the force limit of hand motion is not known as a force.';
  }

  async #go() {
    const body = { cautionsRead: $('cautions-read').checked, acceptBeyondCalibration: $('beyond').checked };
    const forSequence = this.#purpose === 'sequence';
    const result = await send(forSequence ? 'start' : 'hand-motion', body);
    say(forSequence ? $('answer') : $('hand-answer'), result);
    if (!result.done) return;
    if (!forSequence) this.handMotionRead = true;
    this.#close();
  }

  #close() {
    this.#form.hidden = true;
    if (this.#from?.isConnected && !this.#from.hidden) this.#from.focus();
  }
}

// The cautions, read and ticked before anything moves. Not a modal dialogue: that would put the stop out of reach.
import { command } from './api.js';
import { $, say, showItems } from './dom.js';
import { figure, fill, fixed, units, withUnit, words } from './text.js';

const inForce = newtons => withUnit(figure(newtons, units.force, 0), units.force.symbol);

export class Cautions {
  #form = $('cautions'); #purpose = null; #from = null; #calibration = null; #plan = null; #asksForStopTest = false; #stopTestedAt = null;
  handMotionRead = false;

  constructor() {
    this.#form.addEventListener('submit', event => { event.preventDefault(); this.#go(); });
    $('cautions-cancel').addEventListener('click', () => this.#close());
    $('start').addEventListener('click', () => this.#open('sequence', $('start')));
  }

  /** @param {import('./views.js').HelloView} message */
  hello(message) {
    showItems($('caution-list'), message.cautions);
    showItems($('caution-further'), message.furtherCautions);
    this.handMotionRead = false; // Another start of the daemon, perhaps another rig.
  }

  askForHandMotion(from) { this.#open('hand', from); }

  /** @param {import('./views.js').StateView} state */
  render(state) {
    this.#calibration = state.calibration;
    if (this.#asksForStopTest === state.asksForEmergencyStopTest && this.#stopTestedAt === state.emergencyStopTestedAt) return;
    this.#asksForStopTest = state.asksForEmergencyStopTest;
    this.#stopTestedAt = state.emergencyStopTestedAt;
    if (!this.#form.hidden) this.#describe();
  }

  /** @param {import('./views.js').StudyMessage} message */
  study(message) { this.#plan = message.plan; if (!this.#form.hidden && this.#purpose === 'sequence') this.#describe(); }

  get isOpen() { return !this.#form.hidden; }

  #open(purpose, from) {
    this.#purpose = purpose;
    this.#from = from;
    $('cautions-read').checked = false;
    $('beyond').checked = false;
    $('stop-tested').checked = false;
    this.#form.hidden = false;
    this.#describe();
    this.#form.scrollIntoView({ block: 'nearest' });
    this.#form.focus();
  }

  #describe() {
    const plan = this.#plan, forSequence = this.#purpose === 'sequence';
    $('cautions-go').textContent = forSequence ? words.dashboard.start : words.dashboard.allowByHand;
    $('plan').textContent = forSequence && plan
      ? fill(words.dashboard.plan, {
        specimens: plan.specimens, speed: withUnit(figure(plan.speedMillimetresPerSecond, units.speed, 2), units.speed.symbol),
          force: inForce(plan.forceLimitNewtons),
        travel: withUnit(figure(plan.travelLimitMillimetres, units.length, 0), units.length.symbol),
          seconds: fixed(plan.announcedDelaySeconds, 0),
      })
      : '';
    const limit = forSequence ? plan?.forceLimitNewtons ?? 0 : 0;
    const reference = this.#calibration?.greatestReferenceNewtons ?? null;
    const beyond = forSequence ? reference !== null && limit > reference : reference === null;
    // Hand motion is what the stop is tested with.
    $('stop-tested-box').hidden = !(forSequence && this.#asksForStopTest);
    $('stop-tested').required = forSequence && this.#asksForStopTest;
    $('stop-tested-at').hidden = !(forSequence && !this.#asksForStopTest && this.#stopTestedAt);
    if (this.#stopTestedAt) $('stop-tested-at').textContent = fill(words.dashboard.stopTestedAt,
      { time: new Date(this.#stopTestedAt).toLocaleTimeString() });
    $('beyond-box').hidden = !beyond;
    $('beyond-text').textContent = forSequence
      ? fill(words.dashboard.acceptBeyond, { reference: inForce(reference), limit: inForce(limit) })
      : words.dashboard.acceptNone;
  }

  async #go() {
    const body = { cautionsRead: $('cautions-read').checked, acceptBeyondCalibration: $('beyond').checked,
      emergencyStopTested: $('stop-tested').checked };
    const forSequence = this.#purpose === 'sequence';
    const result = await command(forSequence ? 'sequence' : 'hand-motion', body);
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

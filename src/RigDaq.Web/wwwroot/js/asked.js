// What somebody elsewhere wants to move: a person here allows or refuses it.
import { command } from './api.js';
import { element } from './dom.js';
import { fill, words } from './text.js';

const what = {
  startSequence: words.access.whatStartSequence,
  resumeSequence: words.access.whatResumeSequence,
  skipSpecimen: words.access.whatSkipSpecimen,
  retrySpecimen: words.access.whatRetrySpecimen,
  findHome: words.access.whatFindHome,
  moveToGripSeparation: words.access.whatMoveToGripSeparation,
  jog: words.access.whatJog,
};

export class Asked {
  #place; #shown = '';

  constructor(place) { this.#place = place; }

  /** @param {import('./views.js').StateView} state */
  render(state) {
    const ids = state.motionAsked.map(asked => asked.id).join(' ');
    if (ids === this.#shown) return;
    this.#shown = ids;
    this.#place.hidden = ids === '';
    this.#place.replaceChildren(...state.motionAsked.map(asked => {
      const made = element('div', 'banner bad');
      made.append(element('p', '', fill(words.access.asks,
        { name: asked.name || words.access.asksNobody, from: asked.from, what: what[asked.what] })));
      const buttons = element('div', 'buttons');
      buttons.append(this.#button(words.access.allow, asked.id, true), this.#button(words.access.refuse, asked.id, false));
      made.append(buttons);
      return made;
    }));
  }

  #button(text, id, allowed) {
    const button = element('button', '', text);
    button.type = 'button';
    button.addEventListener('click', () => command('asked', { id, allowed }));
    return button;
  }
}

// What the plan asks: chosen while it is open, changed with a reason afterwards, frozen by a second press.
import { send, studyPath } from './api.js';
import { $, all, element, say } from './dom.js';
import { enterGoesOn, figureIn } from './fields.js';
import { fill, words } from './text.js';


export class Questions {
  /** @type {import('./views.js').StudyPageView} */ #page = null;
  #typed = false; #changed;

  /** @param changed Called when something was changed, to read the study again. */
  constructor(changed) {
    this.#changed = changed;
    enterGoesOn($('questions'));
    $('questions').addEventListener('input', () => { this.#typed = true; });
    $('questions').addEventListener('submit', event => { event.preventDefault(); this.#save(); });
    $('freeze').addEventListener('click', () => this.#freeze());
    $('freeze').addEventListener('blur', () => this.#disarm());
  }

  /** @param {import('./views.js').StudyPageView} page */
  show(page) {
    const another = page.study.id !== this.#page?.study.id, asks = page.questions;
    if (another) say($('questions-answer'), { done: true, message: '' });
    this.#page = page;
    $('freeze').hidden = page.study.frozenAt !== null;
    $('questions-why-field').hidden = page.study.frozenAt === null;
    this.#disarm();
    $('questions-count').textContent = fill(words.studies.questionsCount,
      { n: asks.questions.filter(question => question.asked).length, all: asks.questions.length });
    if (this.#typed && !another) return; // What was chosen stays until it is saved.
    this.#typed = false;
    $('question-list').replaceChildren(...asks.questions.map(question => {
      const label = element('label', 'tick'), box = element('input');
      Object.assign(box, { type: 'checkbox', value: question.name, checked: question.asked });
      label.append(box, element('span', '', question.words));
      return label;
    }));
    $('reference-material').replaceChildren(new Option(words.studies.allPairs, ''), ...asks.materials.map(name => new Option(name, name)));
    $('reference-material').value = asks.referenceMaterial ?? '';
    $('keeps').value = String(asks.keepsPercent);
    $('questions-why').value = '';
  }

  #ask() {
    const wrong = [], keeps = figureIn($('keeps'), words.studies.keeps, wrong);
    if (wrong.length > 0) return wrong[0];
    return {
      questions: all('input:checked', $('question-list')).map(box => box.value).join('\n'),
      referenceMaterial: $('reference-material').value, keepsPercent: keeps ?? 0, text: $('questions-why').value,
    };
  }

  async #save(more = {}) {
    const ask = this.#ask();
    const result = typeof ask === 'string' ? { done: false, message: ask }
      : await send(studyPath(this.#page.study.id, '/questions'), { ...ask, ...more });
    if (result.done) this.#typed = false;
    await this.#changed();
    say($('questions-answer'), result);
    $('questions-answer').scrollIntoView({ block: 'nearest' });
  }

  /** The first press says what the second does. What is chosen in the form is frozen with it. */
  async #freeze() {
    if ($('freeze').dataset.armed === undefined) {
      $('freeze').dataset.armed = '';
      $('freeze').textContent = words.studies.freezeSure;
      return;
    }
    await this.#save({ freeze: true });
  }

  #disarm() {
    delete $('freeze').dataset.armed;
    $('freeze').textContent = words.studies.freeze;
  }
}

// A study is made: typed, judged while it is typed, kept by its button.
import { kept, send } from './api.js';
import { $, element, say } from './dom.js';
import { Asker, enterGoesOn, figureIn } from './fields.js';
import { fill, words } from './text.js';

const LOOK_MILLISECONDS = 400;
const ID_LENGTH_MAX = 64;
const COUNT_MAX = 2 ** 31 - 1;
const typed = name => $(`make-${name}`).value;

export class Making {
  #idTyped = false; #made; #mayChange = false;
  #asker = new Asker(LOOK_MILLISECONDS, () => this.#look());

  /** @param made Called with the id of a study that was made, and the answer. */
  constructor(made) {
    this.#made = made;
    enterGoesOn($('make'));
    $('make').addEventListener('submit', event => { event.preventDefault(); this.#make(); });
    $('make-id').addEventListener('input', () => { this.#idTyped = typed('id') !== ''; });
    $('make-name').addEventListener('input', () => { if (!this.#idTyped) $('make-id').value = idOf(typed('name')); });
    $('make-conditions').addEventListener('input', offerReferences);
    $('make').addEventListener('input', () => this.#asker.soon(result => this.#tell(result)));
  }

  show(mayChange, open) {
    this.#mayChange = mayChange;
    if (open) $('make-box').open = true;
  }

  async #look() {
    const ask = read();
    return typeof ask === 'string' || !this.#mayChange || [ask.id, ask.materials, ask.conditions].some(text => text.trim() === '') ? null
      : send(`${kept}/studies/plan`, ask);
  }

  #tell(result) {
    $('make-words').textContent = result.done ? result.message : '';
    $('make-remarks').replaceChildren(...(result.done ? result.reasons : [result.message]).map(text => element('li', '', text)));
  }

  async #make() {
    this.#asker.stop();
    const ask = read();
    const result = typeof ask === 'string' ? { done: false, message: ask } : await send(`${kept}/studies`, ask);
    say($('make-answer'), result);
    if (!result.done) { $('make-answer').scrollIntoView({ block: 'nearest' }); return; }
    $('make').reset();
    offerReferences();
    this.#idTyped = $('make-box').open = false;
    this.#tell({ done: true, message: '', reasons: [] });
    say($('make-answer'), { done: true, message: '' });
    await this.#made(ask.id.trim(), result);
  }
}

/**
 * What stands in the form; or in words what is wrong with it.
 * @returns {any}
 */
function read() {
  const wrong = [], nameOf = name => $(`make-${name}`).labels[0].firstChild.textContent.trim(),
    optional = name => figureIn($(`make-${name}`), nameOf(name), wrong);
  const figure = (name, fits = _ => true) => {
    const value = optional(name);
    if (value === null
      || (Number.isFinite(value) && !fits(value))) wrong.push(fill(words.studies.numberExpected,
      { field: nameOf(name), text: typed(name) }));
    return value;
  };
  const count = name => figure(name, value => Number.isInteger(value) && value >= 0 && value <= COUNT_MAX);
  const ask = {
    id: typed('id'), name: typed('name'), materials: typed('materials'), conditions: typed('conditions'), settings: typed('settings'),
      settingName: typed('setting-name'), settingUnit: typed('setting-unit'),
    prints: count('prints'), printsOf: typed('prints-of'), separatePrints: typed('separate') !== '',
      alternateOrder: typed('alternate') !== '', leftOut: typed('left-out'), specimens: count('specimens'), reference: typed('reference'),
      marginPercent: figure('margin'),
    basis: typed('basis'), referenceSetting: typed('reference-setting'), seed: count('seed'), withinPercent: optional('within'),
      betweenPercent: optional('between') ?? 0, stretchPercent: optional('stretch') ?? 0,
  };
  return wrong.length > 0 ? wrong.join(' ') : ask;
}

function offerReferences() {
  const before = typed('reference'), names = [...new Set(typed('conditions').split('\n').map(name => name.trim()).filter(Boolean))];
  $('make-reference').replaceChildren(new Option(words.studies.allPairs, ''), ...names.map(name => new Option(name, name)));
  if (names.includes(before)) $('make-reference').value = before;
}

const idOf = name => name.normalize('NFD').toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim().replaceAll(' ', '-').slice(0, ID_LENGTH_MAX);

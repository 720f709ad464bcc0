// Prints and their stretches: what could not be printed, and prints that are one piece.
import { send, studyPath, upload } from './api.js';
import { $, all, element, say } from './dom.js';
import { enterGoesOn, figureIn } from './fields.js';
import { fill, words } from './text.js';

const PHOTO_BYTES_MAX = 10 * 1024 * 1024;

export class Prints {
  /** @type {import('./views.js').StudyPageView} */ #page = null;
  #changed; #joined = []; // In the order in which they were chosen: from the print bed upwards.

  /** @param changed Called when something was changed, to read the study again. */
  constructor(changed) {
    this.#changed = changed;
    for (const id of ['failed', 'join']) enterGoesOn($(id));
    $('failed-print').addEventListener('change', () => this.#offerStretches());
    $('failed-setting').addEventListener('change', () => this.#showMode());
    $('failed').addEventListener('submit', event => { event.preventDefault(); this.#mark(); });
    $('join').addEventListener('submit', event => { event.preventDefault(); this.#join(); });
    $('join-prints').addEventListener('change', event => this.#choose(event.target));
  }

  /** @param {import('./views.js').StudyPageView} page */
  show(page) {
    const another = page.study.id !== this.#page?.study.id;
    this.#page = page;
    if (another) {
      for (const id of ['failed', 'join']) { $(id).reset(); say($(`${id}-answer`), { done: true, message: '' }); }
      this.#joined = [];
    }
    this.#joined = this.#joined.filter(id => this.#print(id) !== undefined);
    $('stretches').replaceChildren(...page.prints.map(print => this.#row(print)));
    const before = $('failed-print').value;
    $('failed-print').replaceChildren(...page.prints.map(print => new Option(`${print.id} · ${print.group}`, print.id)));
    if (this.#print(before) !== undefined) $('failed-print').value = before;
    this.#offerStretches();
    $('join-prints').replaceChildren(...page.prints.map(print => {
      const label = element('label', 'tick'), box = element('input');
      Object.assign(box, { type: 'checkbox', value: print.id, checked: this.#joined.includes(print.id) });
      label.append(box, element('span', '', `${print.id} · ${print.group}`));
      return label;
    }));
    this.#tellOrder();
  }

  #print(id) { return this.#page.prints.find(print => print.id === id); }

  #row(print) {
    const row = element('tr'), name = element('th', '', print.id), cell = element('td'), list = element('ul', 'stretches');
    name.scope = 'row';
    list.append(...print.stretches.map(stretch => {
      const item = element('li', stretch.failure === null ? '' : 'failed');
      if (stretch.words !== '') item.append(element('b', '', stretch.words), ' ');
      if (stretch.failure === null) item.append(fill(words.studies.stretchPieces, { n: stretch.specimens, pulled: stretch.pulled }), ' ',
        element('span', 'soft', stretch.names));
      else {
        item.append(element('span', 'mark bad', words.studies.couldNotBePrinted), ' ',
          fill(stretch.failure.tries === 1 ? words.studies.failedOnce : words.studies.failedTries,
          { reason: stretch.failure.reason, n: stretch.failure.tries }));
        if (stretch.failure.photo) {
          const link =
            element('a', '', fill(words.studies.photoOfStretch, { place: [print.id, stretch.words].filter(Boolean).join(', ') }));
          Object.assign(link, { href: this.#photo(print.id, stretch.setting), target: '_blank', rel: 'noopener' });
          item.append(' ', link);
        }
      }
      return item;
    }));
    cell.append(list);
    row.append(name, element('td', '', print.group), cell);
    return row;
  }

  #photo(print, setting) {
    const query = new URLSearchParams({ print, setting: setting ?? '' });
    return studyPath(this.#page.study.id, `/stretch-photo?${query}`);
  }

  #stretches() { return this.#print($('failed-print').value)?.stretches ?? []; }

  #stretch() { return this.#stretches()[Number($('failed-setting').value)]; }

  #offerStretches() {
    const before = $('failed-setting').value, stretches = this.#stretches();
    $('failed-setting').replaceChildren(...stretches.map((stretch, i) => new Option(stretch.words || words.studies.wholePrint, String(i))));
    if (stretches[Number(before)] !== undefined) $('failed-setting').value = before;
    this.#showMode();
  }

  /** A stretch that is marked can be taken back; any other can be marked. */
  #showMode() {
    const marked = this.#stretch()?.failure !== null && this.#stretch() !== undefined;
    for (const field of all('.marking', $('failed'))) field.hidden = marked;
    for (const field of all('.taking-back', $('failed'))) field.hidden = !marked;
    $('failed-save').textContent = marked ? words.studies.takeBack : words.studies.markFailed;
  }

  async #mark() {
    const stretch = this.#stretch(), wrong = [], marked = stretch.failure !== null, count = marked ? $('failed-specimens')
      : $('failed-tries');
    const n = figureIn(count, count.labels[0].firstChild.textContent.trim(), wrong);
    if (wrong.length === 0
      && !(Number.isInteger(n) && n >= 1)) wrong.push(fill(words.studies.wholeNumberExpected,
      { field: count.labels[0].firstChild.textContent.trim() }));
    if (wrong.length > 0) { say($('failed-answer'), { done: false, message: wrong.join(' ') }); return; }
    const id = this.#page.study.id, ask = { print: $('failed-print').value, setting: stretch.setting },
      photo = $('failed-photo').files[0];
    if (!marked && photo?.size > PHOTO_BYTES_MAX) { say($('failed-answer'), { done: false, message: words.run.photoTooLarge }); return; }
    let result = marked ? await send(studyPath(id, '/printed'), { ...ask, specimens: n })
      : await send(studyPath(id, '/not-printed'), { ...ask, text: $('failed-why').value, tries: n });
    if (result.done && !marked && photo) {
      const kept = await upload(this.#photo(ask.print, ask.setting), photo, undefined, words.run.photoNoAnswer);
      if (!kept.done) result = kept;
    }
    if (result.done) for (const id of ['failed-why', 'failed-photo']) $(id).value = '';
    await this.#changed();
    say($('failed-answer'), result);
    $('failed-answer').scrollIntoView({ block: 'nearest' });
  }

  #choose(box) {
    this.#joined = this.#joined.filter(id => id !== box.value);
    if (box.checked) this.#joined.push(box.value);
    this.#tellOrder();
  }

  #tellOrder() {
    const order =
      this.#joined.map(id => `${id} (${this.#print(id).stretches.map(stretch => stretch.words || words.studies.wholePrint).join(', ')})`);
    $('join-order').textContent = order.length === 0 ? '' : fill(words.studies.joinOrder, { prints: order.join(', ') });
  }

  async #join() {
    const result = await send(studyPath(this.#page.study.id, '/join-prints'),
      { prints: this.#joined.join('\n'), text: $('join-why').value });
    if (result.done) { this.#joined = []; $('join').reset(); }
    await this.#changed();
    say($('join-answer'), result);
    $('join-answer').scrollIntoView({ block: 'nearest' });
  }
}

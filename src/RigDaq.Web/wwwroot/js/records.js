// How prints came to be: prints chosen in the list, one record typed for all of them. The daemon's core judges it while it is typed.
import { send, studyPath } from './api.js';
import { $, all, element, say, showItems } from './dom.js';
import { Asker, enterGoesOn, figureIn } from './fields.js';
import { fill, words } from './text.js';

const LOOK_MILLISECONDS = 400;
const PRINTS_NAMED_MAX = 4;

const place = { key: 'place', words: words.studies.place, text: true };
const hours = { key: 'hours', words: words.studies.hours };
const storage = [place, { key: 'temperatureCelsius', words: words.studies.temperature },
  { key: 'relativeHumidityPercent', words: words.studies.humidity }, hours];
const drying = [
  { key: 'setTemperatureCelsius', words: words.studies.dryerSet },
    { key: 'measuredTemperatureCelsius', words: words.studies.dryerMeasured }, hours,
  { key: 'massBeforeGrams', words: words.studies.massBefore }, { key: 'massAfterGrams', words: words.studies.massAfter },
];
const fieldsOf = { storage, drying, 'while-printing': storage };

export class Records {
  /** @type {import('./views.js').StudyPageView} */ #page = null;
  #chosen = new Set(); #typed = false; #kept; #question = null;
  #asker = new Asker(LOOK_MILLISECONDS, () => this.#look());

  /** @param kept Called when something was kept, to read the study again. */
  constructor(kept) {
    this.#kept = kept;
    $('record').addEventListener('submit', event => { event.preventDefault(); this.#keep(); });
    $('record').addEventListener('input', () => this.#changed());
    enterGoesOn($('record'));
    $('empty')
      .addEventListener('click', () => { this.#typed = false; this.#asker.stop(); this.#fill(null);
      this.#remark(this.#page.recordFindings, true); this.#name(); });
    addEventListener('beforeunload', event => { if (this.#typed) event.preventDefault(); });
    $('prints').addEventListener('change', event => this.#choose([[event.target.value, event.target.checked]]));
    $('prints').addEventListener('keydown', event => this.#walk(event));
    const choose = wanted => () => this.#choose(this.#page.prints.map(print => [print.id, wanted(print)]));
    $('prints-all').addEventListener('click', choose(() => true));
    $('prints-none').addEventListener('click', choose(() => false));
    $('prints-without').addEventListener('click', choose(print => print.record === null));
    for (const button of all('[data-another]')) {
      button.addEventListener('click', () => { const row = spell(fieldsOf[button.dataset.another], {});
        $(button.dataset.another).append(row); row.querySelector('input').focus(); });
    }
  }

  /** @param {import('./views.js').StudyPageView} page */
  show(page) {
    if (page.study.id !== this.#page?.study.id) {
      this.#chosen.clear(); // What was typed stays until it is kept or emptied.
      say($('record-answer'), { done: true, message: '' });
    }
    this.#page = page;
    const focused = /** @type {any} */ (document.activeElement), now = focused?.closest?.('#prints') ? focused.value : null;
    $('prints').replaceChildren(...page.prints.map((print, i) => {
      const row = element('tr'), name = element('th'), label = element('label', 'tick'), box = element('input');
      Object.assign(box, { type: 'checkbox', value: print.id, checked: this.#chosen.has(print.id), tabIndex: i === 0 ? 0 : -1 });
      label.append(box, element('span', '', print.id));
      name.scope = 'row';
      name.append(label);
      row.append(name, element('td', '', print.group),
        element('td', print.noted.length === 0 ? 'soft' : '', print.noted.map(fact => `${fact.name}: ${fact.value}`).join('; ')
        || words.studies.nothingNoted));
      return row;
    }));
    if (now !== null) this.#box(now)?.focus();
    if (!this.#typed) { this.#fill(this.#common() ?? null); this.#remark(page.recordFindings, true); }
    this.#name();
  }

  #box(id) { return all('input', $('prints')).find(box => box.value === id); }

  /** The record that all chosen prints have; undefined where they differ or none is chosen. */
  #common() {
    const [first, ...others] = this.#page.prints.filter(print => this.#chosen.has(print.id)).map(print => print.record);
    return others.every(record => JSON.stringify(record) === JSON.stringify(first)) ? first : undefined;
  }

  #choose(changes) {
    for (const [id, wanted] of changes) {
      if (wanted) this.#chosen.add(id); else this.#chosen.delete(id);
      this.#box(id).checked = wanted;
    }
    // What was typed stays; else the record of the chosen ones stands there, to be changed. Where they differ the form stays: it is copied.
    const common = this.#common();
    if (!this.#typed && common !== undefined) this.#fill(common);
    if (this.#typed) this.#changed();
    this.#name();
  }

  /** One stop of the Tab key for the whole list. */
  #walk(event) {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key], boxes = all('input', $('prints')),
      to = boxes[boxes.indexOf(event.target) + step];
    if (to === undefined) return;
    event.preventDefault();
    event.target.tabIndex = -1;
    to.tabIndex = 0;
    to.focus();
  }

  #name() {
    const ids = [...this.#chosen];
    $('keep').textContent = ids.length === 0 ? words.studies.keepRecord
      : ids.length <= PRINTS_NAMED_MAX ? fill(words.studies.keepFor, { prints: ids.join(', ') })
        : fill(words.studies.keepForMany, { n: ids.length });
    $('unkept').hidden = !this.#typed;
  }

  #fill(record) {
    $('storage').replaceChildren(...(record?.storage.length > 0 ? record.storage : [{}]).map(values => spell(storage, values)));
    $('drying').replaceChildren(...(record?.drying.length > 0 ? record.drying : [{}]).map(values => spell(drying, values)));
    $('while-printing').replaceChildren(spell(storage, record?.whilePrinting ?? {}));
    $('chamber').value = record?.chamberTemperatureCelsius ?? '';
    $('printer-settings').value = (record?.printerSettings ?? []).map(setting => `${setting.name} = ${setting.value}`).join('\n');
    $('notes').value = record?.notes ?? '';
    $('uptake').textContent = '';
  }

  #changed() {
    this.#typed = true;
    this.#name();
    this.#asker.soon(result => {
      $('uptake').textContent = result.reasons === undefined ? '' : result.message;
      this.#remark(result.reasons ?? [result.message], result.done);
    });
  }

  async #look() {
    const ask = this.#ask();
    return typeof ask === 'string' || this.#chosen.size === 0 || !this.#page.mayChange ? null
      : send(studyPath(this.#page.study.id, '/print-records/look'), ask);
  }

  async #keep() {
    this.#asker.stop();
    const ask = this.#ask();
    if (typeof ask === 'string') { say($('record-answer'), { done: false, message: ask }); return; }
    const question = JSON.stringify(ask), result =
      await send(studyPath(this.#page.study.id, '/print-records'), { ...ask, sure: this.#question === question });
    this.#question = result.done ? null : question;
    if (result.done) { this.#typed = false; await this.#kept(); }
    say($('record-answer'), result);
    $('record-answer').scrollIntoView({ block: 'nearest' });
  }

  #remark(texts, done) {
    showItems($('remarks'), texts);
    $('remarks').classList.toggle('bad', !done);
    if ($('record').contains(document.activeElement)) document.activeElement.scrollIntoView({ block: 'nearest' }); // Remarks took room.
  }

  /** What stands in the form; or in words what is wrong with it. */
  #ask() {
    const wrong = [], one = (input, field) => field.text ? input.value.trim() : figureIn(input, field.words, wrong);
    const spells = (id, fields) => [...$(id).children]
      .map(row => Object.fromEntries(all('input', row).map((input, i) => [fields[i].key, one(input, fields[i])])));
    const ask = {
      prints: [...this.#chosen].join('\n'), storage: spells('storage', storage),
        drying: spells('drying', drying), whilePrinting: spells('while-printing', storage)[0],
      chamberTemperatureCelsius: one($('chamber'), { words: words.studies.chamber }), printerSettings: $('printer-settings').value,
        notes: $('notes').value,
    };
    return wrong.length > 0 ? wrong.join(' ') : ask;
  }
}

/** One row: a spell of storage or drying. */
function spell(fields, values) {
  const row = element('div', 'spell');
  row.append(...fields.map(field => {
    const label = element('label', field.text ? 'wide' : '', field.words), input = element('input');
    Object.assign(input, { type: 'text', autocomplete: 'off', inputMode: field.text ? 'text' : 'decimal', value: values[field.key] ?? '' });
    label.append(input);
    return label;
  }));
  return row;
}

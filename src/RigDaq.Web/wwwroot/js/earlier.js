// Earlier results: what the study is set against, its control, and every group that was measured here, read only when it is looked at.
import { get, kept, send, studyPath } from './api.js';
import { $, element, say } from './dom.js';
import { enterGoesOn } from './fields.js';
import { NONE, figure, fill, units, withUnit, words } from './text.js';

const day = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });

export class Earlier {
  /** @type {import('./views.js').StudyPageView} */ #page = null;
  #changed;

  /** @param changed Called when something was changed, to read the study again. */
  constructor(changed) {
    this.#changed = changed;
    enterGoesOn($('earlier'));
    $('shelf-box').addEventListener('toggle', () => { if ($('shelf-box').open) this.#load(); });
    $('against-how').addEventListener('change', () => this.#name());
    $('earlier').addEventListener('submit', event => {
      event.preventDefault();
      const how = $('against-how').value;
      this.#do(...(event.submitter?.value === 'control'
        ? ['/control', $('control').value === '' ? { remove: true } : { group: $('control').value }]
        : ['/against', { other: $('against').value, pool: how === 'pool', remove: how === 'remove', noScatter: how === 'without' }]));
    });
  }

  /** @param {import('./views.js').StudyPageView} page @param {import('./views.js').StudyItem[]} studies */
  show(page, studies) {
    const another = page.study.id !== this.#page?.study.id, against = $('against').value;
    if (another) {
      $('earlier').reset();
      say($('earlier-answer'), { done: true, message: '' });
    }
    this.#page = page;
    const set = page.earlier.map(one => element('li', '', this.#words(one)));
    $('against-now').replaceChildren(...(set.length > 0 ? set : [element('li', 'soft', words.studies.againstNone)]));
    const others = studies.filter(item => item.id !== page.study.id);
    $('against').replaceChildren(...others.map(item => new Option(`${item.name} (${item.id})`, item.id)));
    if (others.some(item => item.id === against)) $('against').value = against;
    $('against-fields').hidden = others.length === 0;
    $('control').replaceChildren(new Option(words.studies.noControl, ''), ...page.groups.map(name => new Option(name, name)));
    $('control').value = page.controlGroup ?? '';
    $('control-now').textContent = page.control === null ? words.studies.controlNone
      : fill(words.studies.controlIs, { group: page.control });
    this.#name();
    if ($('shelf-box').open) this.#load();
  }

  #words(one) {
    const how = one.pooledBecause !== null ? fill(words.studies.againstPooled, { why: one.pooledBecause }) : one.givesScatter ? ''
      : words.studies.againstWithoutScatter;
    return fill(words.studies.againstOne, { title: one.title, n: one.strengths }) + how;
  }

  #name() {
    const how = $('against-how').value;
    $('against-save').textContent = how === 'pool' ? words.studies.pool : how === 'remove' ? words.studies.againstRemove
      : words.studies.againstSave;
  }

  async #load() {
    /** @type {import('./views.js').EarlierView} */ let shelf;
    try {
      shelf = await get(`${kept}/earlier`);
    } catch (fault) { say($('earlier-answer'), { done: false, message: fault.said ?? words.studies.loadAgain }); return; }
    $('controls').replaceChildren(...shelf.controls.map(one =>
      element('li', '', fill(words.studies.controlSessions, { group: this.#group(one.control, ''), sentence: one.sentence }))));
    $('shelf').replaceChildren(...shelf.groups.map(group => {
      const row = element('tr'), name = element('th', '', this.#group(group.group, group.settingUnit));
      name.scope = 'row';
      const cell = (label, text, className) => { const made = element('td', className, text); made.dataset.label = label; return made; };
      row.append(
        name, cell(words.studies.study, group.studyName), cell(words.studies.measured, this.#days(group)),
        cell(words.studies.mean, withUnit(figure(group.meanMegapascals, units.stress, 1, this.#spread(group)), units.stress.symbol),
          'number'),
        cell(words.studies.specimens, this.#counts(group), 'number'),
        cell(words.studies.calibrations, group.calibrations.map(one => one.id).join(', ') || NONE));
      return row;
    }));
  }

  #counts(group) {
    return fill(group.imported > 0 ? words.studies.specimensImported : words.studies.specimensOf,
      { n: group.n, prints: group.prints, imported: group.imported });
  }

  #group(group, unit) {
    const setting = group.setting === null ? '' : `${group.setting}${unit ? `\u202f${unit}` : ''}`;
    return [group.material, group.condition, setting].filter(Boolean).join(', ');
  }

  /** The expanded uncertainty of the mean by the specimens alone, for its digits; null where they do not tell. */
  #spread(group) { return group.variationPercent === null ? null : 2 * group.meanMegapascals * group.variationPercent / 100
    / Math.sqrt(group.n); }

  #days(group) {
    if (group.from === null) return '';
    const from = day.format(new Date(group.from)), to = day.format(new Date(group.to));
    return from === to ? from : fill(words.studies.fromTo, { from, to });
  }

  async #do(what, ask) {
    const result = await send(studyPath(this.#page.study.id, what), { text: $('earlier-why').value, ...ask });
    if (result.done) $('earlier').reset();
    await this.#changed();
    say($('earlier-answer'), result);
    $('earlier-answer').scrollIntoView({ block: 'nearest' });
  }
}

// Corrections of a study: a condition's name, and the way back to an earlier version. Versions are read only when they are looked at.
import { get, send, studyPath } from './api.js';
import { $, element, say } from './dom.js';
import { enterGoesOn } from './fields.js';
import { byWhom, fill, words } from './text.js';

const moment = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'medium' });

export class Corrections {
  /** @type {import('./views.js').StudyPageView} */ #page = null;
  #count = 0; #changed;

  /** @param changed Called when something was changed, to read the study again. */
  constructor(changed) {
    this.#changed = changed;
    enterGoesOn($('correct'));
    $('versions-box').addEventListener('toggle', () => { if ($('versions-box').open) this.#load(); });
    $('correct').addEventListener('submit', event => {
      event.preventDefault();
      const to = event.submitter?.value;
      this.#do(to ? '/back' : '/rename-condition', to ? { to: Number(to), seen: this.#count }
        : { condition: $('condition').value, newName: $('new-name').value });
    });
  }

  /** @param {import('./views.js').StudyPageView} page */
  show(page) {
    if (page.study.id !== this.#page?.study.id) {
      $('correct').reset();
      say($('correct-answer'), { done: true, message: '' });
    }
    this.#page = page;
    $('condition').replaceChildren(...page.conditions.map(name => new Option(name, name)));
    if ($('versions-box').open) this.#load();
  }

  async #load() {
    const id = this.#page.study.id;
    /** @type {import('./views.js').StudyVersionsView} */ let list;
    try {
      list = await get(studyPath(id, '/versions'));
    } catch (fault) { say($('correct-answer'), { done: false, message: fault.said ?? words.studies.loadAgain }); return; }
    if (id !== this.#page.study.id) return;
    this.#count = list.count;
    $('older-versions').textContent = list.count > list.versions.length
      ? fill(words.studies.olderVersions, { n: list.count - list.versions.length }) : '';
    $('versions').replaceChildren(...list.versions.map(version => {
      const item = element('li');
      item.append(element('b', '', fill(words.studies.version, { n: version.number, moment: moment.format(new Date(version.at)) })),
        element('span', '', [version.reason, byWhom(version.by)].filter(Boolean).join(' · ')));
      if (version.number === list.count) { item.setAttribute('aria-current', 'true'); return item; }
      const button = element('button', 'change', fill(words.studies.back, { n: version.number })), row = element('div', 'buttons');
      Object.assign(button, { type: 'submit', value: String(version.number), disabled: !this.#page.mayChange });
      row.append(button);
      item.append(row);
      return item;
    }));
  }

  async #do(what, ask) {
    const result = await send(studyPath(this.#page.study.id, what), { text: $('why').value, ...ask });
    if (result.done) $('correct').reset();
    await this.#changed(); // Where it was refused because of a change elsewhere, that is shown.
    say($('correct-answer'), result);
    $('correct-answer').scrollIntoView({ block: 'nearest' });
  }
}

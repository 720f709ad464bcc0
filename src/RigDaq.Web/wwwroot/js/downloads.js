// Files of a study that take a while: made by the daemon as jobs, with how far they are and a way to call them off.
import { callOff, get, kept, send, studyPath } from './api.js';
import { $, element, say } from './dom.js';
import { fill, words } from './text.js';

const EVERY_MILLISECONDS = 400;

export class Downloads {
  #study = ''; #job = null; #timer = 0;

  constructor() {
    $('downloads').addEventListener('submit', event => { event.preventDefault(); this.#ask(); });
    $('download-off').addEventListener('click', () => this.#callOff());
    $('download-what').addEventListener('change', () => this.#choose());
    this.#choose();
  }

  /** @param {string} study @param {boolean} mayChange */
  show(study, mayChange) {
    this.#study = study;
    $('downloads').hidden = !mayChange;
  }

  #choose() {
    const what = $('download-what').value;
    $('download-names-box').hidden = !['pdf', 'html', 'package'].includes(what);
    $('download-style-box').hidden = what !== 'pictures';
  }

  async #ask() {
    const what = $('download-what').value, noNames = !$('download-names').checked, asked = {
      pdf: () => send(studyPath(this.#study, '/report'), { format: 'pdf', noNames }),
      html: () => send(studyPath(this.#study, '/report'), { format: 'html', noNames }),
      pictures: () => send(studyPath(this.#study, '/pictures'),
        { style: $('download-style').value, format: $('download-format').value, transparent: $('download-clear').checked }),
      package: () => send(studyPath(this.#study, '/package'), { noNames }),
      backup: () => send(`${kept}/backup`),
    };
    const job = await asked[what]();
    if (!job.id) { say($('download-answer'), job); return; }
    this.#job = job.id;
    this.#working(true);
    this.#look();
  }

  async #look() {
    clearTimeout(this.#timer);
    if (this.#job === null) return;
    /** @type {import('./views.js').JobView} */ let job;
    try {
      job = await get(`${kept}/jobs/${this.#job}`);
    } catch (fault) { this.#end({ done: false, message: fault.said ?? words.shared.noAnswer }); return; }
    if (job.state === 'done') { this.#save(job); return; }
    if (job.state === 'failed') { this.#end({ done: false, message: job.problem }); return; }
    if (job.state === 'calledOff') { this.#end({ done: true, message: words.studies.downloadCalledOff }); return; }
    const progress = $('download-progress');
    if (job.of > 0) { progress.max = job.of; progress.value = job.done; } else progress.removeAttribute('value');
    say($('download-answer'), { done: true, message: job.state === 'waiting' ? words.studies.downloadWaits
      : job.of > 0 ? fill(words.studies.downloadStep, { done: job.done, of: job.of }) : words.studies.downloadWorks });
    this.#timer = setTimeout(() => this.#look(), EVERY_MILLISECONDS);
  }

  async #callOff() { say($('download-answer'), await callOff(`${kept}/jobs/${this.#job}`)); this.#look(); }

  /** @param {import('./views.js').JobView} job */
  #save(job) {
    const link = element('a', '', fill(words.studies.downloadReady, { file: job.fileName }));
    link.href = job.file;
    link.download = job.fileName;
    this.#end({ done: true, message: '' });
    $('download-answer').replaceChildren(link);
    link.click();
  }

  #end(result) {
    this.#job = null;
    this.#working(false);
    say($('download-answer'), result);
  }

  #working(isWorking) {
    $('download-make').disabled = isWorking;
    $('download-off').hidden = !isWorking;
    $('download-progress').hidden = !isWorking;
  }
}

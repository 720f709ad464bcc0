// What is asked of the daemon: commands, what it shows, and files.
import { rig } from './rig.js';
import { words } from './words.js';

/** Where all that is kept is asked for. */
export const kept = '/api/v1';

const ANSWER_MILLISECONDS = 15000;
const MOTION_MILLISECONDS = 75000;
const UPLOAD_MILLISECONDS = 120000;
// A browser has six requests to one host in flight at most; some are left for the stop.
const WAITING_MAX = 2;
let waiting = 0;

/** The address of a study and what belongs to it. */
export function studyPath(id, more = '') { return `${kept}/studies/${encodeURIComponent(id)}${more}`; }

/** The address of a run and what belongs to it. */
export function runPath(id, more = '') { return `${kept}/runs/${encodeURIComponent(id)}${more}`; }

/** Something that the rig is to do. It gives { done, message }, whatever happens. From elsewhere a person at the rig answers first. */
export function command(name, body = {}) { return send(`${rig}/${name}`, body, undefined, MOTION_MILLISECONDS); }

/**
 * Something that is to be done at an address. It gives { done, message }, whatever happens.
 * @param {string} address
 * @param {object} [body]
 * @param {number} [seen] The state that the person was shown; in another one it is not done.
 */
export async function send(address, body = {}, seen, milliseconds = ANSWER_MILLISECONDS) {
  if (waiting >= WAITING_MAX) return { done: false, message: words.shared.busy };
  waiting++;
  try {
    return await post(address, JSON.stringify(body), 'application/json', milliseconds, seen);
  } catch {
    return { done: false, message: words.shared.noAnswer };
  } finally {
    waiting--;
  }
}

/**
 * A file. It gives what the daemon says of it; { done, message } where it was refused or nobody answered.
 * @param {string} address
 * @param {Blob} file
 * @param {string} [type] What it is sent as; else what the browser takes it for.
 */
export async function upload(address, file, type, noAnswer = words.shared.noAnswer) {
  try {
    return await post(address, file, type, UPLOAD_MILLISECONDS);
  } catch {
    return { done: false, message: noAnswer };
  }
}

/** What the daemon shows at an address. A refusal is thrown; its words are in `said`, which is not there where nobody answered. */
export async function get(address, milliseconds = ANSWER_MILLISECONDS) {
  const response = await fetch(address, { cache: 'no-store', signal: AbortSignal.timeout(milliseconds) });
  const answer = await response.json();
  if (!response.ok) throw Object.assign(new Error(answer.message), { said: answer.message, status: response.status });
  return answer;
}

/** Takes the key that stands behind # in the printed address, and hides it from the address bar and the history. */
export async function enter() {
  const key = new URLSearchParams(location.hash.slice(1)).get('key');
  if (!key) return null;
  history.replaceState(null, '', location.pathname + location.search);
  return send(`${kept}/session`, { key });
}

/** Calls something off that was asked for. It gives { done, message }, whatever happens. */
export async function callOff(address) {
  try {
    const response = await fetch(address, { method: 'DELETE', cache: 'no-store', signal: AbortSignal.timeout(ANSWER_MILLISECONDS) });
    return await response.json();
  } catch {
    return { done: false, message: words.shared.noAnswer };
  }
}

async function post(address, body, type, milliseconds, seen) {
  const headers = { ...type ? { 'content-type': type } : {}, ...seen === undefined ? {} : { 'if-match': `"${seen}"` } };
  const response = await fetch(address, { method: 'POST', cache: 'no-store', headers, body, signal: AbortSignal.timeout(milliseconds) });
  return response.json();
}

// Commands to the daemon. Each gives { done, message }, whatever happens.
import { words } from './words.js';

const ANSWER_MILLISECONDS = 15000;
// A browser has six requests to one host in flight at most; some are left for the stop.
const WAITING_MAX = 2;
let waiting = 0;

export async function send(command, body = {}) {
  if (waiting >= WAITING_MAX) return { done: false, message: words.shared.busy };
  waiting++;
  try {
    const response = await fetch(`/api/${command}`, {
      method: 'POST', cache: 'no-store', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body),
      signal: AbortSignal.timeout(ANSWER_MILLISECONDS),
    });
    return await response.json();
  } catch {
    return { done: false, message: words.shared.noAnswer };
  } finally {
    waiting--;
  }
}

/** What the daemon shows at an address. A refusal is thrown; its words are in `said`, which is not there where nobody answered. */
export async function get(address) {
  const response = await fetch(address, { cache: 'no-store', signal: AbortSignal.timeout(ANSWER_MILLISECONDS) });
  const answer = await response.json();
  if (!response.ok) throw Object.assign(new Error(answer.message), { said: answer.message, status: response.status });
  return answer;
}

/** Takes the key that stands behind # in the printed address, and hides it from the address bar and the history. */
export async function enter() {
  const key = new URLSearchParams(location.hash.slice(1)).get('key');
  if (!key) return null;
  history.replaceState(null, '', location.pathname + location.search);
  return send('enter', { key });
}

export function say(element, result) {
  element.textContent = result.message;
  element.classList.toggle('bad', !result.done);
}

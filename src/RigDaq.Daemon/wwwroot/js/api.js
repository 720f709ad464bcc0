// Commands to the daemon. Each gives { done, message }, whatever happens.
const ANSWER_MILLISECONDS = 15000;

export async function send(command, body = {}) {
  try {
    const response = await fetch(`/api/${command}`, {
      method: 'POST', cache: 'no-store', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body),
      signal: AbortSignal.timeout(ANSWER_MILLISECONDS),
    });
    return await response.json();
  } catch {
    return { done: false, message: 'The daemon did not answer. See whether it still runs.' };
  }
}

/** Takes the key that stands behind # in the printed address, and hides it from the address bar and the history. */
export async function enter() {
  const key = new URLSearchParams(location.hash.slice(1)).get('key');
  if (!key) return null;
  history.replaceState(null, '', location.pathname);
  return send('enter', { key });
}

export function say(element, result) {
  element.textContent = result.message;
  element.classList.toggle('bad', !result.done);
}

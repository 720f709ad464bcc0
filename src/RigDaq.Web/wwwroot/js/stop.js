// The stop, on its own: no module, no other script, no socket; its words stand in the page. Escape stops from anywhere, Space when no
// control has the focus.
'use strict';
(() => {
  const ANSWER_MILLISECONDS = 3000;
  const SAME_PRESS_MILLISECONDS = 300;
  const form = /** @type {HTMLFormElement} */ (document.querySelector('form.stop'));
  const answer = document.getElementById('stop-answer');
  let last = -Infinity;

  const say = (text, bad) => {
    answer.textContent = text;
    answer.classList.toggle('bad', bad);
  };

  const stop = async () => {
    const now = performance.now();
    if (now - last < SAME_PRESS_MILLISECONDS) return; // One press is a pointer event and a click.
    last = now;
    // Three ways: the browser itself sends the beacon even when this page hangs or closes in the next moment; and an open socket
    // (link.js hears this) is not held up by the few requests that a browser has in flight at once.
    // All copies of one press bear one id, so that a late one does not hold again what was let go on since; without an id each is obeyed.
    const id = crypto.randomUUID ? crypto.randomUUID() : '';
    const queued = navigator.sendBeacon(`/api/stop?id=${id}`);
    window.dispatchEvent(new CustomEvent('rigdaq-stop', { detail: id }));
    say(form.dataset.sent, false);
    try {
      const response = await fetch(`/api/stop?id=${id}`, {
        method: 'POST', keepalive: true, cache: 'no-store', headers: { accept: 'application/json' },
        signal: AbortSignal.timeout(ANSWER_MILLISECONDS),
      });
      const result = await response.json();
      say(result.message, !result.done);
    } catch {
      say(queued ? form.dataset.noAnswer : form.dataset.notSent, true);
    }
  };

  const hasControl = () => {
    const element = document.activeElement;
    return element !== null && element.closest('button, input, select, textarea, a, summary, [tabindex="0"]') !== null;
  };

  form.addEventListener('submit', event => { event.preventDefault(); stop(); });
  document.getElementById('stop').addEventListener('pointerdown', stop);
  window.addEventListener('keydown', event => {
    const isStop = event.key === 'Escape' || (event.key === ' ' && !hasControl());
    if (!isStop) return;
    event.preventDefault();
    if (!event.repeat) stop();
  }, { capture: true });
})();

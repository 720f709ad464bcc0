// This browser hears of alarms, or no longer.
import { get, kept, send } from './api.js';
import { $, say } from './dom.js';
import { fill, words } from './text.js';

const WORKER = '/push-worker.js';

export async function offerPush() {
  const can = 'serviceWorker' in navigator && 'PushManager' in window;
  $('push-cannot').hidden = can;
  if (!can) return;
  $('push-on').addEventListener('click', hear);
  $('push-off').addEventListener('click', hearNot);
  await show();
}

async function show() {
  const registration = await navigator.serviceWorker.getRegistration(WORKER);
  const subscription = await registration?.pushManager.getSubscription() ?? null;
  $('push-on').hidden = subscription !== null;
  $('push-off').hidden = subscription === null;
}

async function hear() {
  try {
    const registration = await navigator.serviceWorker.register(WORKER);
    await navigator.serviceWorker.ready;
    /** @type {import('./views.js').PushView} */ const push = await get(`${kept}/push`);
    const subscription = await registration.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: push.publicKey });
    const { endpoint, keys } = subscription.toJSON();
    say($('push-answer'), await send(`${kept}/push`, { endpoint, key: keys.p256dh, secret: keys.auth }));
  } catch (fault) {
    say($('push-answer'), { done: false, message: fill(words.journal.pushRefused, { why: fault.said ?? fault.message }) });
  }
  await show();
}

async function hearNot() {
  const registration = await navigator.serviceWorker.getRegistration(WORKER);
  const subscription = await registration?.pushManager.getSubscription();
  if (subscription) {
    say($('push-answer'), await send(`${kept}/push/remove`, { endpoint: subscription.endpoint }));
    await subscription.unsubscribe();
  }
  await show();
}

// Logging in from elsewhere.
import { kept, send } from './api.js';
import { $, say } from './dom.js';

$('log-in').addEventListener('submit', async event => {
  event.preventDefault();
  const result = await send(`${kept}/session/log-in`, { name: $('name').value, password: $('password').value });
  say($('answer'), result);
  if (result.done) location.replace('/');
  else { $('password').value = ''; $('password').focus(); }
});

// Who may come in from elsewhere: the link to look by, and the accounts.
import { enter, get, kept, send } from './api.js';
import { $, banner, element, say, showItems } from './dom.js';
import { fill, words } from './text.js';

const roles = { look: words.access.roleLook, operate: words.access.roleOperate, administer: words.access.roleAdminister };
const moment = new Intl.DateTimeFormat(undefined, { dateStyle: 'short', timeStyle: 'short' });
let drawn = 0;

await enter();
await showLink();
await showAccounts();
$('withdraw').addEventListener('click', async () => {
  say($('look-answer'), await send(`${kept}/look/withdraw`));
  await showLink();
});
$('make').addEventListener('submit', async event => {
  event.preventDefault();
  const result = await send(`${kept}/accounts`, { name: $('name').value.trim(), role: $('role').value, password: $('password').value });
  say($('answer'), result);
  if (!result.done) return;
  $('name').value = '';
  $('password').value = '';
  await showAccounts();
});

async function showLink() {
  try {
    /** @type {import('./views.js').LookView} */ const look = await get(`${kept}/look`);
    $('look-closed').hidden = look.isOpen;
    $('look-open').hidden = !look.isOpen;
    if (!look.isOpen) return;
    // Another address each time: the picture of a link that was withdrawn is not to be shown from memory.
    $('qr').src = `${kept}/look/qr?link=0&drawn=${drawn++}`;
    showItems($('links'), look.links);
  } catch (fault) { banner(fault.said ?? words.shared.noAnswer, true, 'look'); }
}

async function showAccounts() {
  try {
    /** @type {import('./views.js').AccountsView} */ const told = await get(`${kept}/accounts`);
    $('operate').hidden = false;
    $('operate-closed').hidden = told.fingerprint !== null;
    showItems($('operate-links'), told.links);
    $('print-help').hidden = told.fingerprint === null;
    $('print').textContent = told.fingerprint ?? '';
    $('nobody').hidden = told.accounts.length > 0;
    $('accounts').replaceChildren(...told.accounts.map(row));
    showItems($('sessions'), told.sessions.length === 0 ? [words.access.noSessions]
      : told.sessions.map(session => `${session.name}, ${fill(words.access.since,
        { time: moment.format(new Date(session.begunAt)), from: session.from })}`));
  } catch (fault) {
    // Whoever may not say who else may is not shown who may.
    if (fault.status !== 403) banner(fault.said ?? words.shared.noAnswer, true, 'accounts');
  }
}

/** @param {import('./views.js').AccountView} account */
function row(account) {
  const made = element('tr'), name = element('th', '', account.name), cell = element('td');
  const remove = element('button', '', words.access.remove);
  name.scope = 'row';
  remove.type = 'button';
  remove.setAttribute('aria-label', `${words.access.remove}: ${account.name}`);
  remove.addEventListener('click', async () => {
    say($('answer'), await send(`${kept}/accounts/remove`, { name: account.name }));
    await showAccounts();
  });
  cell.append(remove);
  made.append(name, roleCell(account), cell);
  return made;
}

/** The role, to be changed where it stands. @param {import('./views.js').AccountView} account */
function roleCell(account) {
  const cell = element('td'), choice = element('select');
  choice.setAttribute('aria-label', `${words.access.role}: ${account.name}`);
  for (const [role, text] of Object.entries(roles)) {
    const option = element('option', '', text);
    option.value = role;
    option.selected = role === account.role;
    choice.append(option);
  }
  choice.addEventListener('change', async () => {
    say($('answer'), await send(`${kept}/accounts/revise`, { name: account.name, role: choice.value }));
    await showAccounts();
  });
  cell.append(choice);
  return cell;
}

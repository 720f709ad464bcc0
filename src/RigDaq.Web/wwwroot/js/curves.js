// Recordings of other programs: files are chosen, how each was read is shown and corrected, and its curves become runs of a study.
import { enter, get, kept, upload } from './api.js';
import { $, all, banner, element, say, showItems } from './dom.js';
import { fill, force, nameUnits, units, words } from './text.js';

const ROLES = { force: words.curves.force, time: words.curves.time, position: words.curves.position, curve: words.curves.curve };
const COLUMN_OPTIONS = { force: 'forceColumn', time: 'timeColumn', position: 'positionColumn', curve: 'curveColumn' };
const BYTES_MAX = 32 * 1024 * 1024, FILES_MAX = 100;
const files = [];
const TABLE_NAMES = ['file', 'material', 'condition'], HEAD_BYTES = 4096;
let now = null, question = 0, mayChange = false, table = null;

await enter();
nameUnits();
await start();

$('files').addEventListener('change', () => take($('files').files));
$('drop').addEventListener('dragover', event => { event.preventDefault(); $('drop').classList.add('over'); });
$('drop').addEventListener('dragleave', () => $('drop').classList.remove('over'));
$('drop').addEventListener('drop', event =>
    { event.preventDefault(); $('drop').classList.remove('over'); take(event.dataTransfer.files); });
$('options').addEventListener('change', () =>
    { Object.assign(now.options, Object.fromEntries(new FormData($('options')))); read(now); });
$('options').addEventListener('submit', event => event.preventDefault());
$('keep').addEventListener('submit', keep);
$('table').addEventListener('change', () => { if ($('table').files.length > 0) readTable($('table').files[0]); });
$('keep-rows').addEventListener('submit', keepRows);

async function start() {
  try {
    /** @type {import('./views.js').CurvesStartView} */ const begun = await get(`${kept}/curves`);
    mayChange = begun.mayChange;
    $('layout').append(...begun.layouts.map(option));
    $('studies').replaceChildren(...begun.studies.map(option));
    banner(mayChange ? null : words.curves.mayNot);
    $('files').disabled = $('table').disabled = !mayChange;
  } catch (fault) { banner(fault.said ?? words.curves.loadAgain); }
}

async function take(list) {
  if (!mayChange) return;
  const fresh = [];
  for (const file of [...list].slice(0, FILES_MAX - files.length)) {
    if (await isTable(file)) readTable(file);
    else fresh.push({ file, options: {}, view: null });
  }
  if (fresh.length === 0) return;
  files.push(...fresh);
  if (table !== null) showRows();
  read(fresh[0], true);
}

/** Whether a text's first lines name the columns that a table of specimens needs. */
async function isTable(file) {
  const head = (await file.slice(0, HEAD_BYTES).text()).toLowerCase().split(/\r?\n/).find(line => line !== '' && !line.startsWith('#'))
    ?? '';
  const names = head.split(/[,;\t|]/).map(name => name.trim().replace(/^"|"$/g, ''));
  return TABLE_NAMES.every(name => names.includes(name));
}

async function readTable(file) {
  const answer = await post('table', { file, options: {} }, {});
  $('by-table').hidden = false;
  if (answer.rows === undefined) { say($('rows-kept'), answer); return; }
  say($('rows-kept'), { done: true, message: '' });
  table = { name: file.name, rows: answer.rows };
  showItems($('table-remarks'), answer.remarks);
  showRows();
}

function fileOf(row) { return files.find(one => one.file.name.toLowerCase() === row.file.toLowerCase()); }

function showRows() {
  $('table-read').textContent = fill(words.curves.tableRead, { table: table.name, n: table.rows.length });
  $('rows').replaceChildren(...table.rows.map(row => {
    const line = element('tr'), head = element('th', '', row.curve === '' ? row.file : `${row.file}, ${row.curve}`);
    const section = row.area === '' ? [row.width, row.thickness].filter(text => text !== '').join(' × ') : `${row.area} mm²`;
    head.scope = 'row';
    line.append(head,
      element('td', '', [row.material, row.condition, row.setting, row.print, row.ending].filter(text => text !== '').join(', ')),
      element('td', '', section),
      element('td', '', row.said ?? (fileOf(row) === undefined ? words.curves.tableMissing : words.curves.tableReady)));
    return line;
  }));
}

/** One row after another; a row that is refused says why and keeps none of the others from being saved. */
async function keepRows(event) {
  event.preventDefault();
  if (table === null) return;
  const study = new FormData($('keep-rows')).get('study'), of = table.rows.length;
  let kept = 0;
  for (const [at, row] of table.rows.entries()) {
    const one = fileOf(row);
    if (one === undefined) continue;
    say($('rows-kept'), { done: true, message: fill(words.curves.tableBusy, { n: at + 1, of }) });
    const { file, line, said, ...asked } = row;
    const result = await post('keep', one, { study, ...asked });
    row.said = result.message;
    if (result.done) { kept++; one.kept = true; }
    showRows();
  }
  say($('rows-kept'), { done: kept === of, message: fill(words.curves.tableKept, { n: kept, of }) });
  if (kept > 0) goOn($('rows-kept'), study);
  showFiles();
}

function showFiles() {
  $('chosen').replaceChildren(...files.map(one => {
    const item = element('li'),
        button = element('button', '', one.kept ? fill(words.curves.fileKept, { file: one.file.name }) : one.file.name);
    button.type = 'button';
    if (one === now) button.setAttribute('aria-current', 'true');
    button.addEventListener('click', () => read(one, true));
    item.append(button);
    return item;
  }));
}

/** Asks how a file is read; an answer that comes after another question is not shown. */
async function read(one, moved = false) {
  const mine = ++question;
  if (moved) { now = one; fillOptions(); }
  showFiles();
  if (one.file.size > BYTES_MAX)
      { tell({ done: false, message: fill(words.curves.tooLong, { n: BYTES_MAX / 1048576 }) }); hide(); return; }
  tell({ done: true, message: words.curves.reading });
  const answer = await post('read', one,
      { scheme: matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light' });
  if (mine !== question) return;
  if (answer.columns === undefined) { tell(answer); hide(); return; }
  tell({ done: true, message: '' });
  one.view = answer;
  show(answer);
  if (moved) $('reading-title').focus();
}

/** Sends a file with what was said of it. */
function post(command, one, more) {
  const said = Object.entries({ ...one.options, ...more }).flatMap(([name, value]) => [value].flat().map(each => [name, each]))
    .filter(([, value]) => value !== '' && value !== null);
  return upload(`${kept}/curves/${command}?${new URLSearchParams([['name', one.file.name], ...said])}`, one.file,
    'application/octet-stream');
}

function hide() { for (const id of ['reading', 'shown', 'keeping']) $(id).hidden = true; }

/** @param {import('./views.js').CurvesView} view */
function show(view) {
  $('reading').hidden = false;
  $('shown').hidden = $('keeping').hidden = view.curves.length === 0;
  const text = view.sheet === null
      ? fill(words.curves.readText, { encoding: view.encoding, separator: view.separator ?? '', mark: view.decimalMark })
      : fill(words.curves.readSheet, { sheet: view.sheet });
  const lines = view.headerLine === null ? words.curves.noHeader : words.curves.header;
  $('read-as').textContent = view.firstLine === null ? text
      : [text, fill(lines, { line: view.headerLine, first: view.firstLine })].join(' ');
  showItems($('faults'), view.faults);
  showItems($('warnings'), view.warnings);
  if (view.faults.length > 0) $('corrections').open = true;
  const chosen = all('select', $('columns')).indexOf(document.activeElement);
  $('columns').replaceChildren(...view.columns.map(row));
  if (chosen >= 0) all('select', $('columns'))[chosen]?.focus();
  $('preview').replaceChildren(...view.preview.map(cells =>
      { const line = element('tr'); line.append(...cells.map(cell => element('td', '', cell))); return line; }));
  $('sheet').replaceChildren(new Option(words.curves.firstSheet, ''), ...view.sheets.map(option));
  $('sheet').value = now.options.sheet ?? '';
  $('curves').replaceChildren(...view.curves.map(curve));
}

/** @param {import('./views.js').TraceReadColumn} column */
function row(column) {
  const line = element('tr'),
      head = element('th', '', column.name === '' ? fill(words.curves.numbered, { n: column.number }) : column.name),
      cell = element('td'), choice = element('select');
  head.scope = 'row';
  choice.setAttribute('aria-label', fill(words.curves.takeFor, { column: head.textContent }));
  choice.append(new Option(words.curves.notUsed, ''), ...Object.entries(ROLES).map(([role, said]) => new Option(said, role)));
  if (column.role === 'counts') choice.append(new Option(words.curves.counts, 'counts'));
  choice.value = column.role ?? '';
  choice.addEventListener('change', () => {
    const before = COLUMN_OPTIONS[column.role], after = COLUMN_OPTIONS[choice.value], forces = COLUMN_OPTIONS.force;
    // Several columns may hold a force, a curve each; every other role is one column's. One that is taken away is not asked for again.
    if (before && before !== forces) now.options[before] = 'none';
    if (before === forces || after === forces) {
      const others = now.view.columns.filter(one => one.role === 'force' && one.number !== column.number).map(one => String(one.number));
      now.options[forces] = after === forces ? [...others, String(column.number)] : others;
    }
    if (after && after !== forces) now.options[after] = String(column.number);
    read(now);
  });
  cell.append(choice);
  line.append(head, cell, element('td', '', column.unit), element('td', 'soft', column.why));
  return line;
}

/** @param {import('./views.js').CurveView} one */
function curve(one) {
  const made = element('article'),
      figures = fill(words.curves.figures,
      { ending: one.ending, peak: one.peakForceNewtons === null ? words.curves.noPeak
      : `${force(one.peakForceNewtons)} ${units.force.symbol}`, n: one.samples });
  made.append(element('h3', '', one.name), element('p', '', figures));
  if (one.svg !== null) {
    const box = element('div', 'scroll'), image = element('img');
    Object.assign(box, { tabIndex: 0 });
    box.setAttribute('role', 'group');
    box.setAttribute('aria-label', fill(words.curves.pictureOf, { curve: one.name }));
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(one.svg)}`;
    image.alt = `${one.name}: ${figures}`;
    box.append(image);
    made.append(box);
  }
  const notes = element('ul', 'warnings');
  showItems(notes, one.warnings);
  made.append(notes);
  return made;
}

async function keep(event) {
  event.preventDefault();
  const one = now, result = await post('keep', one, Object.fromEntries(new FormData($('keep'))));
  say($('kept'), result);
  if (result.done) { one.kept = true; goOn($('kept'), new FormData($('keep')).get('study')); showFiles(); }
  $('kept').scrollIntoView({ block: 'nearest' });
}

/** What comes next for someone whose curves are saved: their groups, comparisons and report. */
function goOn(place, study) {
  for (const [address, said] of [[`/studies.html?study=${encodeURIComponent(study)}`, words.curves.openStudy],
    [`/report/${encodeURIComponent(study)}`, words.curves.openReport]]) {
    const link = element('a', '', said);
    link.href = address;
    place.append(' ', link);
  }
}

function fillOptions() { for (const field of $('options').elements) if (field.name) field.value = now.options[field.name] ?? ''; }
function option(value) { return new Option(value, value); }
function tell(result) { say($('answer'), result); }

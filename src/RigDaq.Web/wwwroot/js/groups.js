// The groups' running means with their intervals, on one scale, beside the figures.
import { $, element } from './dom.js';
import { decimalsOf, fill, fixed, NONE, shown, units, words } from './text.js';

const SVG = 'http://www.w3.org/2000/svg';
const TICKS_WANTED = 5;

/** @param {import('./views.js').StudyMessage} study */
export function showGroups(study) {
  const groups = study.groups.map(inUnit), values = groups.flatMap(g => [g.mean, g.low, g.high]).filter(Number.isFinite);
  const scale = values.length > 0 ? niceRange(Math.min(...values), Math.max(...values)) : null;
  $('plot-scale')
    .replaceChildren(...(scale ? [element('span', '', fixed(scale.low, scale.decimals)), element('span', '', units.stress.symbol),
    element('span', '', fixed(scale.high, scale.decimals))] : [units.stress.symbol]));
  $('groups').tBodies[0].replaceChildren(...groups.map(g => row(g, scale)));
  const hasRuns = study.id !== null && groups.some(g => g.count > 0);
  $('study-links').hidden = !hasRuns;
  if (!hasRuns) return;
  $('report-link').href = `/report/${encodeURIComponent(study.id)}`;
  $('picture-link').href = `/picture/${encodeURIComponent(study.id)}`;
}

// With as many decimals as the mean's interval allows.
function inUnit(group) {
  const [mean, low, high] = [group.meanMegapascals, group.lowMegapascals, group.highMegapascals].map(value => shown(value, units.stress));
  return { ...group, mean, low, high, decimals: low === null ? 1 + units.stress.decimals : decimalsOf((high - low) / 2) };
}

function row(group, scale) {
  const tr = element('tr'), name = element('th', '', group.label);
  name.scope = 'row';
  const runs = group.notPrinted ? words.dashboard.notPrinted : fill(words.dashboard.runsOf, { n: group.count, planned: group.planned })
    + (group.voided > 0 ? fill(words.dashboard.voided, { n: group.voided }) : '');
  const mean = fixed(group.mean, group.decimals) + (group.extrapolated && group.mean !== null ? words.shared.extrapolated : '');
  const interval = group.low === null ? NONE
    : fill(words.dashboard.span, { low: fixed(group.low, group.decimals), high: fixed(group.high, group.decimals) });
  const plot = element('td', 'plot');
  if (scale !== null) plot.append(picture(group, scale));
  tr.append(name, element('td', 'number', runs), element('td', 'number', mean), element('td', 'number', interval), plot);
  return tr;
}

function picture(group, scale) {
  const svg = document.createElementNS(SVG, 'svg'), at = value => `${(100 * (value - scale.low) / (scale.high - scale.low)).toFixed(2)}%`;
  svg.setAttribute('aria-hidden', 'true'); // The figures stand in the same row.
  const line = (className, from, to, top, foot) => {
    const made = document.createElementNS(SVG, 'line');
    made.setAttribute('class', className);
    for (const [name, value] of [['x1', from], ['x2', to], ['y1', top], ['y2', foot]]) made.setAttribute(name, value);
    svg.append(made);
  };
  for (let i = 0; i <= scale.ticks; i++) line('grid', `${100 * i / scale.ticks}%`, `${100 * i / scale.ticks}%`, '0', '100%');
  if (group.low !== null) line('whisker', at(group.low), at(group.high), '50%', '50%');
  if (group.mean !== null) {
    const dot = document.createElementNS(SVG, 'circle');
    dot.setAttribute('class', 'mean');
    for (const [name, value] of [['cx', at(group.mean)], ['cy', '50%'], ['r', '6']]) dot.setAttribute(name, value);
    svg.append(dot);
  }
  return svg;
}

function niceRange(low, high) {
  const raw = Math.max(high - low, Math.abs(high) * 0.02, 1e-6) / TICKS_WANTED, power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].find(n => n * power >= raw) * power, from = Math.floor(low / step),
    to = Math.max(from + 1, Math.ceil(high / step));
  return { low: from * step, high: to * step, ticks: to - from, decimals: step >= 1 ? 0 : 2 };
}

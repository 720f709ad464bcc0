// A small picture of a figure over time: points, their line, the ends of both scales.
import { fixed } from './text.js';

const SPACE = 'http://www.w3.org/2000/svg';
const WIDTH = 420, HEIGHT = 140, LEFT = 62, RIGHT = 8, TOP = 14, FOOT = 24;

/**
 * @param {HTMLElement} place
 * @param {{ at: number, value: number }[]} points In the order of time.
 * @param {{ decimals: number, none: string, label: string, moment: (at: number) => string }} how
 */
export function chart(place, points, how) {
  if (points.length === 0) { place.textContent = how.none; return; }
  const values = points.map(point => point.value), from = points[0].at, to = points[points.length - 1].at;
  let low = Math.min(...values), high = Math.max(...values);
  if (high - low < 10 ** -how.decimals) { low -= 10 ** -how.decimals; high += 10 ** -how.decimals; }
  const x = at => LEFT + (to === from ? 0.5 : (at - from) / (to - from)) * (WIDTH - LEFT - RIGHT);
  const y = value => TOP + (high - value) / (high - low) * (HEIGHT - TOP - FOOT);
  const picture = make('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: 'img', 'aria-label': how.label });
  for (const value of [low, high]) {
    picture.append(make('line', { x1: LEFT, x2: WIDTH - RIGHT, y1: y(value), y2: y(value) }),
      make('text', { x: LEFT - 6, y: y(value) + 5, 'text-anchor': 'end' }, fixed(value, how.decimals)));
  }
  const way = points.map((point, i) => `${i ? 'L' : 'M'}${x(point.at).toFixed(1)} ${y(point.value).toFixed(1)}`);
  picture.append(make('path', { d: way.join('') }));
  if (points.length < 60) for (const point of points) picture.append(make('circle', { cx: x(point.at), cy: y(point.value), r: 3 }));
  picture.append(make('text', { x: LEFT, y: HEIGHT - 4 }, how.moment(from)),
    make('text', { x: WIDTH - RIGHT, y: HEIGHT - 4, 'text-anchor': 'end' }, how.moment(to)));
  place.replaceChildren(picture);
}

function make(name, attributes, text = '') {
  const made = document.createElementNS(SPACE, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.textContent = text;
  return made;
}

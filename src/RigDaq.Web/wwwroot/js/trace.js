// Live force against time: one filled envelope of minimum and maximum a pixel column, so that no spike and no break vanishes.
import { fill, fixed, units, words } from './text.js';

const CAPACITY = 1 << 18; // About a minute at 4,000 samples/s.
const MASK = CAPACITY - 1;
const NICE = [1, 2, 5, 10];
const MARGIN_EMS = { left: 4, right: 1, top: 1.8, bottom: 2 };
const SHRINK = 0.06;
const REDUCED_MILLISECONDS = 250;
const GAP_SPACINGS = 3;
const SCALE_MIN = { force: 10 / units.force.stored, counts: 1000 };
const PEAK_DECIMALS = 1 + units.force.decimals;

export class Trace {
  #canvas; #pen; #times = new Float64Array(CAPACITY); #values = new Float32Array(CAPACITY);
  #count = 0; #start = null; #isCounts = false; #spacing = 0.0125; #top = 0; #bottom = 0; #dirty = true; #drawn = 0;
  #colours = {}; #em = 16; #margin = {}; #width = 0; #height = 0; #scale = 1; #peak = null;
  seconds = 10;

  constructor(canvas) {
    this.#canvas = canvas;
    this.#pen = canvas.getContext('2d');
    new ResizeObserver(() => this.#resize()).observe(canvas);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.#theme());
    this.reduced = matchMedia('(prefers-reduced-motion: reduce)');
    this.#theme();
    this.#resize();
    const turn = now => {
      if (this.#dirty && (!this.reduced.matches || now - this.#drawn > REDUCED_MILLISECONDS)) { this.#drawn = now; this.#draw(); }
      requestAnimationFrame(turn);
    };
    requestAnimationFrame(turn);
  }

  /** How many samples ever came, for tests and for the label. */
  get count() { return this.#count; }

  get unit() { return this.#isCounts ? words.shared.counts : units.force.symbol; }

  set span(seconds) { this.seconds = seconds; this.#dirty = true; }

  /** A new pull: its peak is looked for anew. */
  forgetPeak() { this.#peak = null; this.#dirty = true; }

  add(block) {
    if (block.start !== this.#start || block.isCounts !== this.#isCounts) {
      // Another start of the device, or another unit: what came before does not go on.
      this.#start = block.start;
      this.#isCounts = block.isCounts;
      this.#count = 0;
      this.#peak = null;
    }
    if (block.spacingSeconds > 0) this.#spacing = block.spacingSeconds;
    const scale = block.isCounts ? 1 : units.force.stored;
    for (let i = 0; i < block.values.length; i++) {
      const at = this.#count++ & MASK, time = block.firstSeconds + i * block.spacingSeconds, value = block.values[i] / scale;
      this.#times[at] = time;
      this.#values[at] = value;
      if (this.#peak === null || value > this.#peak.value) this.#peak = { time, value };
    }
    this.#dirty = true;
  }

  #theme() {
    const style = getComputedStyle(this.#canvas), value = name => style.getPropertyValue(name).trim();
    this.#colours = { ink: value('--soft'), grid: value('--grid'), line: value('--trace'), mark: value('--mark'), axis: value('--edge') };
    this.#em = parseFloat(style.fontSize);
    this.#margin = Object.fromEntries(Object.entries(MARGIN_EMS).map(([side, ems]) => [side, Math.round(ems * this.#em)]));
    this.#dirty = true;
  }

  #resize() {
    this.#theme();
    const box = this.#canvas.getBoundingClientRect();
    this.#scale = devicePixelRatio || 1;
    this.#width = box.width;
    this.#height = box.height;
    this.#canvas.width = Math.max(1, Math.round(box.width * this.#scale));
    this.#canvas.height = Math.max(1, Math.round(box.height * this.#scale));
    this.#dirty = true;
  }

  #draw() {
    this.#dirty = false;
    const plotWidth = this.#width - this.#margin.left - this.#margin.right, plotHeight = this.#height - this.#margin.top
      - this.#margin.bottom;
    if (plotWidth < 40 || plotHeight < 40) return;
    const kept = Math.min(this.#count, CAPACITY);
    const end = kept > 0 ? this.#times[(this.#count - 1) & MASK] : 0;
    const from = this.#firstAtOrAfter(end - this.seconds, kept);
    this.#scaleTo(from);
    const pen = this.#pen;
    const x = time => this.#margin.left + (time - end + this.seconds) / this.seconds * plotWidth;
    const y = value => this.#margin.top + plotHeight * (1 - (value - this.#bottom) / (this.#top - this.#bottom));
    pen.setTransform(this.#scale, 0, 0, this.#scale, 0, 0);
    pen.clearRect(0, 0, this.#width, this.#height);
    pen.font = getComputedStyle(this.#canvas).font;
    this.#drawAxes(plotWidth, plotHeight, y);
    pen.save();
    pen.beginPath();
    pen.rect(this.#margin.left, this.#margin.top, plotWidth, plotHeight);
    pen.clip();
    const columns = Math.round(plotWidth * this.#scale);
    if (this.#count - from < columns) this.#drawLine(from, x, y);
    else this.#drawEnvelope(from, end, columns, y);
    this.#drawPeak(end, x, y);
    pen.restore();
  }

  #firstAtOrAfter(time, kept) {
    let low = this.#count - kept, high = this.#count;
    while (low < high) {
      const middle = Math.floor((low + high) / 2);
      if (this.#times[middle & MASK] < time) low = middle + 1; else high = middle;
    }
    return low;
  }

  #scaleTo(from) {
    let top = -Infinity, bottom = Infinity;
    for (let i = from; i < this.#count; i++) {
      const value = this.#values[i & MASK];
      if (value > top) top = value;
      if (value < bottom) bottom = value;
    }
    if (top < bottom) { top = 1; bottom = 0; }
    // Forces stand on zero; raw counts stand where they are.
    if (!this.#isCounts) { bottom = Math.min(bottom, 0); top = Math.max(top, 0); }
    const room = Math.max(top - bottom, SCALE_MIN[this.#isCounts ? 'counts' : 'force']);
    const wantTop = Math.max(top + 0.1 * room, bottom + room), wantBottom = bottom - 0.04 * room;
    // Grows at once, shrinks gently.
    const far = this.#top - this.#bottom > 50 * room || this.#top <= this.#bottom;
    this.#top = wantTop > this.#top || far ? wantTop : this.#top + (wantTop - this.#top) * SHRINK;
    this.#bottom = wantBottom < this.#bottom || far ? wantBottom : this.#bottom + (wantBottom - this.#bottom) * SHRINK;
    if (Math.abs(this.#top - wantTop) > 0.01 * room) this.#dirty = true;
  }

  #drawAxes(plotWidth, plotHeight, y) {
    const pen = this.#pen, right = this.#margin.left + plotWidth, foot = this.#margin.top + plotHeight;
    pen.fillStyle = this.#colours.ink;
    pen.strokeStyle = this.#colours.grid;
    pen.lineWidth = 1;
    pen.beginPath();
    pen.textAlign = 'right';
    pen.textBaseline = 'middle';
    const valueStep = step(this.#top - this.#bottom, plotHeight / (3.4 * this.#em));
    for (let value = Math.ceil(this.#bottom / valueStep) * valueStep; value <= this.#top; value += valueStep) {
      const at = Math.round(y(value)) + 0.5;
      pen.moveTo(this.#margin.left, at);
      pen.lineTo(right, at);
      pen.fillText(String(+value.toFixed(6)).replace('-', '\u2212'), this.#margin.left - this.#em / 2, at);
    }
    pen.textAlign = 'center';
    pen.textBaseline = 'top';
    const timeStep = step(this.seconds, plotWidth / (5.2 * this.#em));
    for (let back = 0; back <= this.seconds + 1e-9; back += timeStep) {
      const at = Math.round(right - back / this.seconds * plotWidth) - 0.5;
      pen.moveTo(at, this.#margin.top);
      pen.lineTo(at, foot);
      pen.textAlign = back === 0 ? 'right' : 'center';
      pen.fillText(back === 0 ? words.dashboard.traceNow : `\u2212${+back.toFixed(3)} s`, at, foot + this.#em / 2);
    }
    pen.stroke();
    if (this.#bottom < 0 && this.#top > 0) {
      pen.strokeStyle = this.#colours.axis;
      pen.beginPath();
      pen.moveTo(this.#margin.left, Math.round(y(0)) + 0.5);
      pen.lineTo(right, Math.round(y(0)) + 0.5);
      pen.stroke();
    }
    pen.textAlign = 'left';
    pen.textBaseline = 'top';
    // Above the plot, where no trace and no mark comes.
    pen.fillText(this.#isCounts ? words.dashboard.traceCounts : fill(words.dashboard.traceForce, { unit: units.force.symbol }),
      this.#margin.left, this.#em / 4);
  }

  #drawLine(from, x, y) {
    const pen = this.#pen;
    pen.strokeStyle = this.#colours.line;
    pen.lineWidth = this.#em / 8;
    pen.lineJoin = 'bevel';
    pen.beginPath();
    let before = NaN;
    for (let i = from; i < this.#count; i++) {
      const time = this.#times[i & MASK], at = [x(time), y(this.#values[i & MASK])];
      if (time - before <= GAP_SPACINGS * this.#spacing) pen.lineTo(...at); else pen.moveTo(...at);
      before = time;
    }
    pen.stroke();
  }

  #drawEnvelope(from, end, columns, y) {
    const low = new Float32Array(columns).fill(Infinity), high = new Float32Array(columns).fill(-Infinity);
    const scale = columns / this.seconds, begin = end - this.seconds;
    for (let i = from; i < this.#count; i++) {
      const column = Math.min(columns - 1, Math.max(0, ((this.#times[i & MASK] - begin) * scale) | 0)), value = this.#values[i & MASK];
      if (value < low[column]) low[column] = value;
      if (value > high[column]) high[column] = value;
    }
    const pen = this.#pen, half = 0.5 / this.#scale, weight = this.#em / 15;
    pen.fillStyle = this.#colours.line;
    for (let column = 0; column < columns;) {
      if (high[column] < low[column]) { column++; continue; }
      // One polygon for each stretch without a gap; a column reaches to its neighbour, so that a break stays a solid line.
      const first = column, back = [];
      pen.beginPath();
      for (; column < columns && high[column] >= low[column]; column++) {
        let top = high[column], bottom = low[column];
        if (column > first) { top = Math.max(top, low[column - 1]); bottom = Math.min(bottom, high[column - 1]); }
        const left = this.#margin.left + column / this.#scale - half, right = this.#margin.left + (column + 1) / this.#scale + half;
        pen.lineTo(left, y(top) - weight);
        pen.lineTo(right, y(top) - weight);
        back.push(left, y(bottom) + weight, right, y(bottom) + weight);
      }
      for (let i = back.length - 2; i >= 0; i -= 2) pen.lineTo(back[i], back[i + 1]);
      pen.fill();
    }
  }

  #drawPeak(end, x, y) {
    const peak = this.#peak;
    if (this.#isCounts || peak === null || peak.time < end - this.seconds || peak.value < 0.15 * this.#top) return;
    const pen = this.#pen, text = `${fixed(peak.value, PEAK_DECIMALS)} ${units.force.symbol}`;
    pen.fillStyle = this.#colours.mark;
    pen.beginPath();
    pen.arc(x(peak.time), y(peak.value), this.#em / 3, 0, 7);
    pen.fill();
    const leftRoom = x(peak.time) - this.#margin.left > pen.measureText(text).width + 20;
    pen.textAlign = leftRoom ? 'right' : 'left';
    pen.textBaseline = 'bottom';
    pen.fillText(text, x(peak.time) + (leftRoom ? -0.6 : 0.6) * this.#em, y(peak.value) - 2);
  }
}

function step(range, wanted) {
  const raw = range / Math.max(1, wanted), power = 10 ** Math.floor(Math.log10(raw));
  return NICE.find(n => n * power >= raw) * power;
}

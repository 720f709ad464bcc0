// The socket to the daemon: comes back by itself, says when it is late, and carries a jog while it is held, and a stop.
import { rig } from './rig.js';

const AGAIN_MILLISECONDS = [250, 500, 1000, 2000];
const LATE_MILLISECONDS = 1500;
const BLOCK_HEAD_BYTES = 32;

/** Reads the blocks of one binary message; LiveFrame.cs has the layout. */
export function readBlocks(buffer) {
  const view = new DataView(buffer);
  const blocks = [];
  for (let at = 0; at + BLOCK_HEAD_BYTES <= buffer.byteLength;) {
    const count = view.getInt32(at + 4, true);
    const flags = view.getUint32(at + 28, true);
    const bytes = at + BLOCK_HEAD_BYTES;
    if (count < 0 || bytes + 4 * count > buffer.byteLength) break;
    blocks.push({
      start: view.getUint32(at, true),
      firstSeconds: view.getFloat64(at + 8, true),
      spacingSeconds: view.getFloat64(at + 16, true),
      positionMillimetres: view.getFloat32(at + 24, true),
      isCounts: (flags & 1) === 1,
      lost: flags >>> 1,
      values: new Float32Array(buffer, bytes, count),
    });
    at = bytes + 4 * count;
  }
  return blocks;
}

export class Link {
  #socket = null;
  #tries = 0;
  #heard = 0;
  #late = null;
  #handlers;

  /** @param handlers message(json), block(block), late(isLate) */
  constructor(handlers) {
    this.#handlers = handlers;
    this.#open();
    setInterval(() => this.#look(), 250);
    addEventListener('rigdaq-stop', (/** @type {any} */ event) => {
      if (this.#socket?.readyState === WebSocket.OPEN) this.#socket.send(JSON.stringify({ stop: true, id: event.detail }));
    });
  }

  /** Moves while it is called often enough; 0 stops. False where there is no socket. */
  jog(millimetresPerSecond) {
    if (this.#socket?.readyState !== WebSocket.OPEN) return false;
    this.#socket.send(JSON.stringify({ jogMillimetresPerSecond: millimetresPerSecond }));
    return true;
  }

  /** Connects anew, for example with a key that has just been taken. */
  again() { this.#socket?.close(); }

  #open() {
    const socket = new WebSocket(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}${rig}/live`);
    socket.binaryType = 'arraybuffer';
    socket.onmessage = event => {
      this.#heard = performance.now();
      this.#tries = 0;
      if (typeof event.data === 'string') this.#handlers.message(JSON.parse(event.data));
      else for (const block of readBlocks(event.data)) this.#handlers.block(block);
    };
    socket.onclose = () => {
      this.#socket = null;
      const wait = AGAIN_MILLISECONDS[Math.min(this.#tries++, AGAIN_MILLISECONDS.length - 1)];
      setTimeout(() => this.#open(), wait);
    };
    this.#socket = socket;
  }

  #look() {
    const late = performance.now() - this.#heard > LATE_MILLISECONDS;
    if (late !== this.#late) this.#handlers.late(this.#late = late);
  }
}

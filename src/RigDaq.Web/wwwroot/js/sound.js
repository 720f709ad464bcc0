// Sounds that carry through a workshop: a break, a hold, the announced delay. One switch for all.
import { recall, remember } from './storage.js';
import { words } from './words.js';

const KEY = 'rigdaq-sound';

export class Sound {
  #context = null;
  #button;

  constructor(button) {
    this.#button = button;
    this.on = recall(KEY) !== 'off';
    button.addEventListener('click', () => {
      this.on = !this.on;
      remember(KEY, this.on ? 'on' : 'off');
      this.#show();
      if (this.on) this.tick();
    });
    // Browsers let a page sound only after a touch or a key.
    const wake = () => { this.#open(); removeEventListener('pointerdown', wake); removeEventListener('keydown', wake); };
    addEventListener('pointerdown', wake);
    addEventListener('keydown', wake);
    this.#show();
  }

  /** A specimen parted: a crack and a short fall. */
  broke() { this.#noise(0.09, 0.7); this.#tone(620, 160, 0.32, 0.35); }

  /** It waits for a person: two low tones. */
  held() { this.#tone(330, 330, 0.2, 0.35); this.#tone(247, 247, 0.35, 0.35, 0.26); }

  /** A pull is announced. */
  tick() { this.#tone(880, 880, 0.06, 0.2); }

  #show() {
    this.#button.textContent = this.on ? words.shared.soundOn : words.shared.soundOff;
    this.#button.setAttribute('aria-pressed', String(this.on));
  }

  #open() {
    this.#context ??= new AudioContext();
    if (this.#context.state === 'suspended') this.#context.resume();
    return this.#context;
  }

  #tone(from, to, seconds, loud, after = 0) {
    if (!this.on || this.#context?.state !== 'running') return;
    const context = this.#context, at = context.currentTime + after, tone = context.createOscillator(), gain = context.createGain();
    tone.frequency.setValueAtTime(from, at);
    tone.frequency.exponentialRampToValueAtTime(to, at + seconds);
    gain.gain.setValueAtTime(loud, at);
    gain.gain.exponentialRampToValueAtTime(0.001, at + seconds);
    tone.connect(gain).connect(context.destination);
    tone.start(at);
    tone.stop(at + seconds);
  }

  #noise(seconds, loud) {
    if (!this.on || this.#context?.state !== 'running') return;
    const context = this.#context, length = Math.ceil(seconds * context.sampleRate),
      buffer = context.createBuffer(1, length, context.sampleRate);
    const data = buffer.getChannelData(0);
    for (let i = 0; i < length; i++) data[i] = (Math.random() * 2 - 1) * loud * (1 - i / length) ** 3;
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(context.destination);
    source.start();
  }
}

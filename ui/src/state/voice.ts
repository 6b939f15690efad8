import { call } from '$/bridge/bridge';
import type { Cue } from '$/bridge/types';

/** One note: when it begins and how long it sounds, both in seconds, and its pitch in hertz. */
interface Note {
  at: number;
  hertz: number;
  seconds: number;
}

/** Told apart by rhythm and direction, not by pitch alone: a bay is loud and ears differ. All are
 * under 200 ms, so that the microphone need not be closed for them, but the question: words follow
 * it anyway. Ours; no source. */
const TONES: Record<Cue, readonly Note[]> = {
  accepted: [
    { at: 0, hertz: 880, seconds: 0.07 },
    { at: 0.08, hertz: 1320, seconds: 0.1 },
  ],
  changed: [
    { at: 0, hertz: 1320, seconds: 0.07 },
    { at: 0.08, hertz: 880, seconds: 0.1 },
  ],
  noted: [{ at: 0, hertz: 880, seconds: 0.08 }],
  moved: [{ at: 0, hertz: 660, seconds: 0.05 }],
  asking: [
    { at: 0, hertz: 990, seconds: 0.07 },
    { at: 0.11, hertz: 990, seconds: 0.07 },
  ],
  refused: [{ at: 0, hertz: 220, seconds: 0.18 }],
};

const LOUDNESS = 0.35;

/** Tones and words aloud. */
export class Voice {
  #context: AudioContext | null = null;
  #source: AudioBufferSourceNode | null = null;
  /** What is played belongs to the newest call; an older one that arrives late keeps still. */
  #turn = 0;

  /** To be called from a tap: a phone lets a page make sound only after one. */
  wake(): void {
    const context = this.#ready();
    // Where sound is not allowed yet this waits for a tap for ever: nobody waits with it.
    if (context?.state === 'suspended') void context.resume();
  }

  tone(cue: Cue): void {
    const context = this.#ready();
    if (!context) return;
    for (const note of TONES[cue]) {
      const start = context.currentTime + note.at;
      const oscillator = context.createOscillator();
      const gain = context.createGain();
      oscillator.frequency.value = note.hertz;
      oscillator.type = 'triangle';
      // A soft start and end: a step in the wave is heard as a click.
      gain.gain.setValueAtTime(0, start);
      gain.gain.linearRampToValueAtTime(LOUDNESS, start + 0.008);
      gain.gain.setValueAtTime(LOUDNESS, start + note.seconds - 0.015);
      gain.gain.linearRampToValueAtTime(0, start + note.seconds);
      oscillator.connect(gain).connect(context.destination);
      oscillator.start(start);
      oscillator.stop(start + note.seconds);
    }
  }

  /** Says words. The core is told when sound begins and when it is over, also when it failed, so
   * that the phone does not hear itself. */
  async say(words: string): Promise<void> {
    await this.#play(() => call('speech_of', { words }));
  }

  /** Plays the clip of an entry. */
  async clip(entry: string): Promise<void> {
    await this.#play(() => call('clip_of', { entry }));
  }

  /** Stops what is playing. */
  hush(): void {
    const playing = this.#source !== null;
    this.#cut();
    // Who listens again must know that it is quiet, also when nothing else is played after it.
    if (playing) void call('speaking', { on: false }).catch(() => undefined);
  }

  #cut(): void {
    this.#turn += 1;
    this.#source?.stop();
    this.#source = null;
  }

  async #play(wav: () => Promise<ArrayBuffer>): Promise<void> {
    this.#cut();
    const turn = this.#turn;
    try {
      const context = this.#ready();
      if (!context) return;
      const buffer = await context.decodeAudioData(await wav());
      this.wake();
      if (turn !== this.#turn || context.state !== 'running') return;
      await call('speaking', { on: true });
      await this.#through(context, buffer, turn);
    } finally {
      // Cut short by another, the other says when it is over.
      if (turn === this.#turn) await call('speaking', { on: false });
    }
  }

  async #through(context: AudioContext, buffer: AudioBuffer, turn: number): Promise<void> {
    if (turn !== this.#turn) return;
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(context.destination);
    this.#source = source;
    await new Promise<void>((resolve) => {
      source.onended = () => resolve();
      source.start();
    });
    if (this.#source === source) this.#source = null;
  }

  #ready(): AudioContext | null {
    if (typeof AudioContext === 'undefined') return null;
    this.#context ??= new AudioContext();
    return this.#context;
  }
}

export const voice = new Voice();

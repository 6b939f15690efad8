import { call } from '$/bridge/bridge';
import type { Microphone, WeightsView } from '$/bridge/types';
import { problems } from './problems.svelte';
import { settings } from './settings.svelte';
import { voice } from './voice';

/** What the listening control says. */
export type Ear =
  | 'off'
  | 'opening'
  | 'weights'
  | 'listening'
  | 'speech'
  | 'working'
  | 'speaking'
  | 'failed';

const QUIETEST_DBFS = -60;

/** A loudness as a part of the scale, 0 to 1. */
export function share(dbfs: number): number {
  return Math.min(1, Math.max(0, 1 - dbfs / QUIETEST_DBFS));
}

export function earOf(microphone: Microphone, weights: WeightsView, phase: Phase): Ear {
  if (microphone.state === 'failed') return 'failed';
  if (microphone.state === 'off') return 'off';
  if (microphone.state === 'muted') return 'speaking';
  if (microphone.state === 'opening') return weights.state === 'ready' ? 'opening' : 'weights';
  if (phase === 'speech') return 'speech';
  return phase === 'working' ? 'working' : 'listening';
}

export type Phase = 'quiet' | 'speech' | 'working';

/** The microphone, and what comes in. */
class Listening {
  microphone = $state<Microphone>({ state: 'off', mode: null, problem: null, source: '' });
  weights = $state<WeightsView>({ state: 'looking', problem: null });
  phase = $state<Phase>('quiet');
  /** 0 to 1. */
  level = $state(0);
  peak = $state(0);
  /** What was heard last, unconstrained. */
  text = $state('');
  soundLost = $state(false);
  ear = $derived(earOf(this.microphone, this.weights, this.phase));

  async load(): Promise<void> {
    const [microphone, weights] = await Promise.all([
      problems.attempt(() => call('microphone_state', {})),
      problems.attempt(() => call('weights_state', {})),
    ]);
    if (microphone) this.microphone = microphone;
    if (weights) this.weights = weights;
  }

  get open(): boolean {
    return this.microphone.state !== 'off' && this.microphone.state !== 'failed';
  }

  async start(): Promise<void> {
    voice.wake();
    const mode = settings.now.hands_free ? 'hands-free' : 'press';
    const microphone = await problems.attempt(() => call('listen_start', { mode }));
    if (microphone) this.became(microphone);
  }

  async stop(): Promise<void> {
    const microphone = await problems.attempt(() => call('listen_stop', {}));
    if (microphone) this.became(microphone);
  }

  toggle(): Promise<void> {
    return this.open ? this.stop() : this.start();
  }

  became(microphone: Microphone): void {
    this.microphone = microphone;
    if (!this.open) {
      this.phase = 'quiet';
      this.level = 0;
      this.peak = 0;
    }
  }

  loudness(mean: number, peak: number): void {
    this.level = share(mean);
    this.peak = share(peak);
  }
}

export const listening = new Listening();

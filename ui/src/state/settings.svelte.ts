import { call } from '$/bridge/bridge';
import type { Settings } from '$/bridge/types';
import { useLanguage } from '$/words/index.svelte';
import { problems } from './problems.svelte';

/** Before the core has answered, and where it cannot: the same defaults as its own. */
const DEFAULTS: Settings = {
  pressure_unit: 'psi',
  rule_set: 'lowest-75-of-highest',
  testers: [],
  altitude_m: null,
  speaks: true,
  tones: true,
  hands_free: true,
  text_size: 'normal',
  hand: 'right',
  theme: 'bonnet',
  language: 'en',
  letter_paper: false,
};

const SCALE: Record<Settings['text_size'], { text: number; strip: number }> = {
  normal: { text: 1, strip: 1 },
  large: { text: 1.18, strip: 1.1 },
  largest: { text: 1.36, strip: 1.2 },
};

class SettingsState {
  now = $state<Settings>(DEFAULTS);

  async load(): Promise<void> {
    const read = await problems.attempt(() => call('settings_get', {}));
    if (read) this.now = read;
    this.#apply();
  }

  /** Changes what is given; at once on the screen, and kept by the core. */
  async change(part: Partial<Settings>): Promise<void> {
    const before = this.now;
    this.now = { ...this.now, ...part };
    this.#apply();
    const settings = $state.snapshot(this.now);
    const kept = await problems.attempt(() => call('settings_set', { settings }));
    // What the core refuses must not look as if it were set. An answer that another change has
    // overtaken says nothing.
    if (kept === null && JSON.stringify(settings) === JSON.stringify($state.snapshot(this.now))) {
      this.now = before;
      this.#apply();
    }
  }

  #apply(): void {
    const root = document.documentElement;
    root.dataset['theme'] = this.now.theme;
    root.dataset['hand'] = this.now.hand;
    root.dataset['text'] = this.now.text_size;
    useLanguage(this.now.language);
    root.lang = this.now.language;
    const scale = SCALE[this.now.text_size];
    root.style.setProperty('--text-scale', String(scale.text));
    root.style.setProperty('--strip-scale', String(scale.strip));
    const ground = getComputedStyle(root).getPropertyValue('--ground').trim();
    document.querySelector('meta[name="theme-color"]')?.setAttribute('content', ground);
  }
}

export const settings = new SettingsState();

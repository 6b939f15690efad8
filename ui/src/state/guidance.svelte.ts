import { call } from '$/bridge/bridge';
import type { GuidanceView, RuleSetView, Screen } from '$/bridge/types';
import { problems } from './problems.svelte';

const NOTHING: GuidanceView = { cautions: [], must_see: [], when_passed: null, signs: [], exits: [] };

/** What must be heeded on a screen, and the fixed lists of the trade: asked once. */
class Guidance {
  #of = $state<Partial<Record<Screen, GuidanceView>>>({});
  ruleSets = $state<RuleSetView[]>([]);

  of(screen: Screen): GuidanceView {
    return this.#of[screen] ?? NOTHING;
  }

  async load(screen: Screen): Promise<void> {
    if (this.#of[screen]) return;
    const read = await problems.attempt(() => call('guidance', { screen }));
    if (read) this.#of[screen] = read;
  }

  async loadRuleSets(): Promise<void> {
    if (this.ruleSets.length > 0) return;
    const read = await problems.attempt(() => call('rule_sets', {}));
    if (read) this.ruleSets = read;
  }
}

export const guidance = new Guidance();

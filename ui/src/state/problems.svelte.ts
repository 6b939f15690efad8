import { problemOf } from '$/bridge/bridge';
import type { Problem } from '$/bridge/types';
import { t } from '$/words/index.svelte';

/** What went wrong and is still to be read. One at a time: the newest. */
class Problems {
  shown = $state<Problem | null>(null);

  show(thrown: unknown): void {
    this.shown = problemOf(thrown, t().problem.unknown);
  }

  dismiss(): void {
    this.shown = null;
  }

  /** Does it; a refusal is shown, and gives null. */
  async attempt<T>(doing: () => Promise<T>): Promise<T | null> {
    try {
      const result = await doing();
      return result;
    } catch (thrown) {
      this.show(thrown);
      return null;
    }
  }
}

export const problems = new Problems();

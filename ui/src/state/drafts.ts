/** What is being typed, kept on the device as it is typed, so that leaving a screen, a call or a
 * kill loses nothing. A draft goes away once its content is in the job file. */

/** The part of `Storage` that is used; a test gives its own. */
export interface DraftStore {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

const PREFIX = 'borespoke.draft.';

export class Drafts {
  readonly #store: DraftStore;

  constructor(store: DraftStore) {
    this.#store = store;
  }

  /** The draft under this name; null when there is none, or none that can be read. */
  read<T>(name: string, isOne: (value: unknown) => value is T): T | null {
    const text = this.#store.getItem(PREFIX + name);
    if (text === null) return null;
    try {
      const value: unknown = JSON.parse(text);
      return isOne(value) ? value : null;
    } catch {
      return null;
    }
  }

  /** Keeps it. False when the device has no room or forbids it: then it is only on the screen. */
  keep(name: string, value: unknown): boolean {
    try {
      this.#store.setItem(PREFIX + name, JSON.stringify(value));
      return true;
    } catch {
      return false;
    }
  }

  /** Forgets it: its content is in the job file, or was thrown away by the user. */
  drop(name: string): void {
    this.#store.removeItem(PREFIX + name);
  }
}

/** Where the platform has no storage, drafts live as long as the window. */
function windowStore(): DraftStore {
  const kept = new Map<string, string>();
  return {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  };
}

export const drafts = new Drafts(
  typeof localStorage === 'undefined' ? windowStore() : localStorage,
);

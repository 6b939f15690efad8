import { invoke } from '@tauri-apps/api/core';
import { listen } from '@tauri-apps/api/event';
import type { Commands, LiveEvent, Problem } from './types';

/** Calls the core. What it takes and gives stands with the command's name in `Commands`.
 * A refusal is thrown as a `Problem`. */
export async function call<Name extends keyof Commands>(
  name: Name,
  takes: Commands[Name]['takes'],
): Promise<Commands[Name]['gives']> {
  return invoke<Commands[Name]['gives']>(name, takes);
}

/** Hears what the core tells without being asked. Gives back how to stop. */
export async function hear(tell: (event: LiveEvent) => void): Promise<() => void> {
  return listen<LiveEvent>('live', ({ payload }) => tell(payload));
}

/** What was thrown, as a `Problem`: the core throws one, the platform may throw anything. */
export function problemOf(thrown: unknown, unknownWords: string): Problem {
  if (isProblem(thrown)) return thrown;
  const hint = thrown instanceof Error ? thrown.message : typeof thrown === 'string' ? thrown : '';
  return { what: unknownWords, allowed: null, hint, field: null };
}

function isProblem(thrown: unknown): thrown is Problem {
  return (
    typeof thrown === 'object' &&
    thrown !== null &&
    'what' in thrown &&
    typeof thrown.what === 'string' &&
    'hint' in thrown
  );
}

/** Whether the page runs inside the shell, or in a test that stands in for it. */
export function hasShell(): boolean {
  return '__TAURI_INTERNALS__' in globalThis;
}

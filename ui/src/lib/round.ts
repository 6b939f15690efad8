import type { TurnView } from '$/bridge/types';

/** Where the work on one cylinder of the leak-down round stands. */
export type LeakPhase = 'turn' | 'check' | 'air' | 'tap';

/** The leak-down work in hand, kept so that a call or a kill does not lose the place. */
export interface LeakWork {
  cylinder: number;
  phase: LeakPhase;
  /** The cylinder the crank stands at; null before the first. */
  from: number | null;
  /** Which of the things to see have been seen. */
  seen: number[];
  /** Its valves were tapped: what is read now is after tapping. */
  tapped: boolean;
}

export function isLeakWork(value: unknown): value is LeakWork | null {
  if (value === null) return true;
  if (typeof value !== 'object') return false;
  const { cylinder, phase, from, seen, tapped } = value as Record<string, unknown>;
  return (
    typeof cylinder === 'number' &&
    ['turn', 'check', 'air', 'tap'].includes(String(phase)) &&
    (from === null || typeof from === 'number') &&
    Array.isArray(seen) &&
    typeof tapped === 'boolean'
  );
}

/** A four-stroke repeats after two turns. The round's own sum says so too. */
const ROUND_DEGREES = 720;

/** How far to turn in the direction of rotation from one cylinder's top to another's. `null` when
 * one is not in the round. Where both are the same: nothing to turn. */
export function turnBetween(round: readonly TurnView[], from: number, to: number): number | null {
  const at = (cylinder: number): number | undefined =>
    round.find((turn) => turn.cylinder === cylinder)?.from_start_degrees;
  const [start, end] = [at(from), at(to)];
  if (start === undefined || end === undefined) return null;
  return (end - start + ROUND_DEGREES) % ROUND_DEGREES;
}

/** Where each cylinder's mark stands on the pulley, in degrees from the mark of `at`, 0 to 360, in
 * the direction of rotation. Cylinders one turn apart share a mark. */
export function marksFrom(
  round: readonly TurnView[],
  at: number,
): { degrees: number; cylinders: number[] }[] {
  const marks = new Map<number, number[]>();
  for (const turn of round) {
    const between = turnBetween(round, at, turn.cylinder);
    if (between === null) continue;
    const degrees = Math.round((between % 360) * 10) / 10;
    marks.set(degrees, [...(marks.get(degrees) ?? []), turn.cylinder]);
  }
  return [...marks]
    .map(([degrees, cylinders]) => ({ degrees, cylinders }))
    .sort((a, b) => a.degrees - b.degrees);
}

import type { CylinderView, FindingView } from '$/bridge/types';

/** Where air can leave a cylinder, as the drawing has it. */
export type AirPath =
  | 'intake'
  | 'exhaust'
  | 'oil filler'
  | 'coolant'
  | 'next plug hole'
  | 'fitting';

const PATHS: readonly AirPath[] = [
  'intake',
  'exhaust',
  'oil filler',
  'coolant',
  'next plug hole',
  'fitting',
];

/** The paths that were heard on these cylinders. */
export function heardPaths(cylinders: readonly CylinderView[]): AirPath[] {
  return PATHS.filter((path) => cylinders.some((one) => one.air.includes(path)));
}

/** How strongly an entry speaks, in a word. The bounds are those of a likelihood ratio of 10, 3 and
 * 1.5: Kass and Raftery (1995) put "substantial" near 3 and "strong" from 10 up, from memory; 1.5
 * is ours. */
export function strength(logOdds: number): 'strong' | 'clear' | 'some' | 'little' {
  if (logOdds >= Math.log(10)) return 'strong';
  if (logOdds >= Math.log(3)) return 'clear';
  return logOdds >= Math.log(1.5) ? 'some' : 'little';
}

/** How likely a finding is, in a word that stands beside its number. Bounds are ours. */
export function likelihood(finding: FindingView): 'likely' | 'possible' | 'lessLikely' | 'unlikely' {
  if (finding.probability >= 0.66) return 'likely';
  if (finding.probability >= 0.33) return 'possible';
  return finding.probability >= 0.1 ? 'lessLikely' : 'unlikely';
}

import type { Words } from '$/words/en';
import { list } from './format';

/** "Cylinder 5", "Cylinders 1 and 3", "All cylinders". */
export function namedOf(cylinders: readonly number[], ofAll: number, words: Words): string {
  const [only] = cylinders;
  if (cylinders.length === ofAll && ofAll > 1) return words.common.allCylinders;
  return cylinders.length === 1 && only !== undefined
    ? words.common.cylinder(only)
    : words.common.cylinders(list(cylinders));
}

/** Firing orders that are usual for so many cylinders, to be checked with the maker's manual.
 * Common practice, no source; from memory. */
const USUAL: Record<number, readonly string[]> = {
  1: ['1'],
  2: ['1-2'],
  3: ['1-3-2', '1-2-3'],
  4: ['1-3-4-2', '1-2-4-3', '1-3-2-4'],
  5: ['1-2-4-5-3'],
  6: ['1-5-3-6-2-4', '1-2-3-4-5-6', '1-4-2-5-3-6'],
  8: ['1-8-4-3-6-5-7-2', '1-5-4-2-6-3-7-8', '1-3-7-2-6-5-4-8'],
  10: ['1-10-9-4-3-6-5-8-7-2', '1-6-5-10-2-7-3-8-4-9'],
  12: ['1-7-5-11-3-9-6-12-2-8-4-10', '1-12-5-8-3-10-6-7-2-11-4-9'],
};

/** As many as the core can hold. */
export const MOST_CYLINDERS = 18;

export function usualOrders(cylinders: number): readonly string[] {
  return USUAL[cylinders] ?? [];
}

/** The numbers of a firing order as it was typed; null when it is not each of 1 to `cylinders`
 * once. */
export function firingOrder(text: string, cylinders: number): number[] | null {
  const parts = text.split(/[-–,\s]+/).filter((part) => part !== '');
  const numbers = parts.map(Number);
  const right =
    numbers.length === cylinders &&
    parts.every((part) => /^\d+$/.test(part)) &&
    new Set(numbers).size === cylinders &&
    numbers.every((one) => one >= 1 && one <= cylinders);
  return right ? numbers : null;
}

/** The order a fresh form has for so many cylinders: a usual one, or by number. */
export function firstOrder(cylinders: number): string {
  return (
    usualOrders(cylinders)[0] ?? Array.from({ length: cylinders }, (_, place) => place + 1).join('-')
  );
}

export type LayoutKind = 'in-line' | 'vee' | 'not-said';

/** Banks by number, each from front to rear. */
export function banksOf(kind: LayoutKind, cylinders: number): number[][] | null {
  const all = Array.from({ length: cylinders }, (_, place) => place + 1);
  if (kind === 'not-said') return null;
  if (kind === 'in-line') return [all];
  const half = Math.ceil(cylinders / 2);
  return [all.slice(0, half), all.slice(half)];
}

/** "1-2-3 / 4-5-6" and back. */
export function banksText(banks: readonly (readonly number[])[]): string {
  return banks.map((bank) => bank.join('-')).join(' / ');
}

/** Null when the banks do not hold each cylinder once. */
export function banksFrom(text: string, cylinders: number): number[][] | null {
  const banks = text
    .split('/')
    .map((bank) => bank.split(/[-–,\s]+/).filter((part) => part !== ''))
    .filter((bank) => bank.length > 0);
  return firingOrder(banks.flat().join('-'), cylinders) && banks.map((bank) => bank.map(Number));
}

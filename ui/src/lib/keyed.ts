/** A number put in key by key, as a pocket calculator takes it. Kept as text, so that "9." is not
 * lost on the way to "9.5". */

const MOST_DIGITS = 6;

export type KeyedKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | '.' | 'erase';

/** What stands after a key was pressed. A key that makes no sense changes nothing. */
export function keyed(text: string, key: KeyedKey): string {
  if (key === 'erase') return text.slice(0, -1);
  if (key === '.') return text.includes('.') ? text : `${text === '' ? '0' : text}.`;
  if (text.replace('.', '').length >= MOST_DIGITS) return text;
  return text === '0' ? key : text + key;
}

/** The number that stands; null while there is none. */
export function keyedNumber(text: string): number | null {
  return /\d/.test(text) ? Number(text) : null;
}

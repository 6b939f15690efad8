import { locale } from '$/words/index.svelte';
import type { PressureUnit } from '$/bridge/types';
import { DECIMALS, inUnit, unitName } from './units';

/** Numbers as the user's language writes them. A number never leaves here without its unit, but
 * where a column names the unit once. */

/** A no-break space: a number is not parted from its unit at the end of a line. */
const NBSP = '\u00a0';

export function number(value: number, decimals?: number): string {
  const digits =
    decimals === undefined
      ? { maximumFractionDigits: 2 }
      : { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
  return new Intl.NumberFormat(locale(), digits).format(value);
}

/** A pressure as it was stated: in its own unit, with no digit that was not said. */
export function statedPressure(value: number, unit: PressureUnit): string {
  return `${statedFigure(value, unit)}${NBSP}${unitName(unit)}`;
}

/** The same without its unit. */
export function statedFigure(value: number, unit: PressureUnit): string {
  const rounded = Number(value.toFixed(2));
  const needs = (String(rounded).split('.')[1] ?? '').length;
  return number(rounded, Math.max(needs, DECIMALS[unit]));
}

/** A computed pressure, given in pascals. */
export function pressure(pascals: number, unit: PressureUnit): string {
  return `${pressureFigure(pascals, unit)}${NBSP}${unitName(unit)}`;
}

/** The same without its unit. */
export function pressureFigure(pascals: number, unit: PressureUnit): string {
  return number(inUnit(pascals, unit), DECIMALS[unit]);
}

/** A share, 0 to 1, as whole percent. */
export function percent(share: number, decimals = 0): string {
  return new Intl.NumberFormat(locale(), {
    style: 'percent',
    minimumFractionDigits: 0,
    maximumFractionDigits: decimals,
  }).format(share);
}

/** A probability: never "0 %" or "100 %", since nothing here is certain. */
export function probability(share: number): string {
  if (share > 0.99) return `> ${percent(0.99)}`;
  if (share < 0.01) return `< ${percent(0.01)}`;
  return percent(share);
}

/** Crank degrees. */
export function degrees(value: number): string {
  return `${number(value, Number.isInteger(value) ? 0 : 1)}°`;
}

export function minutes(value: number): string {
  return new Intl.NumberFormat(locale(), {
    style: 'unit',
    unit: 'minute',
    unitDisplay: 'short',
    maximumFractionDigits: 1,
  }).format(value);
}

export function seconds(value: number): string {
  return new Intl.NumberFormat(locale(), {
    style: 'unit',
    unit: 'second',
    unitDisplay: 'narrow',
    minimumFractionDigits: 1,
    maximumFractionDigits: 1,
  }).format(value);
}

/** "8 mm" and the like: a unit Intl does not know, or knows by another name. */
export function withUnit(value: number, unit: string, decimals?: number): string {
  return `${number(value, decimals)}${NBSP}${unit}`;
}

export function day(at: Date): string {
  return new Intl.DateTimeFormat(locale(), { dateStyle: 'medium' }).format(at);
}

export function clock(at: Date): string {
  return new Intl.DateTimeFormat(locale(), { timeStyle: 'short' }).format(at);
}

/** "1, 5 and 3". */
export function list(items: readonly (string | number)[]): string {
  return new Intl.ListFormat(locale(), { type: 'conjunction' }).format(items.map(String));
}

/** What was typed as a number, with a point or a comma: null when it is none. */
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace(/\s/g, '').replace(',', '.');
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

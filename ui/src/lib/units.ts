import type { PressureUnit } from '$/bridge/types';

/** The units of pressure, as in the core. */

/** How the unit is printed; `kgf/cm2` is how it is written in files. */
const PRINTED: Record<PressureUnit, string> = {
  psi: 'psi',
  kPa: 'kPa',
  bar: 'bar',
  'kgf/cm2': 'kgf/cm²',
};

/** How many digits behind the point a gauge in this unit can be read to. */
export const DECIMALS: Record<PressureUnit, number> = { psi: 0, kPa: 0, bar: 1, 'kgf/cm2': 1 };

/** One of the unit in pascals. NIST SP 811 (2008), appendix B. */
const PASCALS: Record<PressureUnit, number> = {
  psi: (0.45359237 * 9.80665) / (0.0254 * 0.0254),
  kPa: 1e3,
  bar: 1e5,
  'kgf/cm2': 98_066.5,
};

export const PRESSURE_UNITS: readonly PressureUnit[] = ['psi', 'kPa', 'bar', 'kgf/cm2'];

export function isPressureUnit(unit: string): unit is PressureUnit {
  return unit in PRINTED;
}

export function unitName(unit: PressureUnit): string {
  return PRINTED[unit];
}

export function inUnit(pascals: number, unit: PressureUnit): number {
  return pascals / PASCALS[unit];
}

export function inPascals(value: number, unit: PressureUnit): number {
  return value * PASCALS[unit];
}

import type { Figure, PressureUnit } from '$/bridge/types';
import { number, percent, statedFigure } from './format';
import { inPascals, inUnit, isPressureUnit, unitName } from './units';

/** A figure as it was stated: "152 psi", "27–28 %", "about 155 psi". */
export function stated(figure: Figure, about: string): string {
  return `${figure.about ? `${about} ` : ''}${bare(figure)}${unitAfter(figure)}`;
}

/** The same without hedge and unit, for where they stand beside it. */
export function bare(figure: Figure): string {
  const { from, to, unit } = figure;
  const ends = from !== null && to !== null && from !== to ? [from, to] : [figure.value];
  return ends
    .map((end) => (isPressureUnit(unit) ? statedFigure(end, unit) : number(end)))
    .join('–');
}

/** How the unit of a figure is printed. */
export function unitOf(unit: string): string {
  if (unit === 'percent') return '%';
  return isPressureUnit(unit) ? unitName(unit) : unit;
}

/** A two-gauge reading: "58/80 psi". */
export function overSupply(figure: Figure): string | null {
  const { supply, cylinder_side: held, supply_unit: unit } = figure;
  if (supply === null || held === null || unit === null) return null;
  return `${statedFigure(held, unit)}/${statedFigure(supply, unit)}\u00a0${unitName(unit)}`;
}

/** A pressure figure in another unit than it was read in, so that all stand on one scale. */
export function inScale(figure: Figure, unit: PressureUnit): number {
  if (!isPressureUnit(figure.unit) || figure.unit === unit) return figure.value;
  return inUnit(inPascals(figure.value, figure.unit), unit);
}

/** A bare number with a unit by its name in files. */
export function amount(value: number, unit: string): string {
  return unit === 'percent' ? percent(value / 100, 2) : `${number(value)}\u00a0${unitOf(unit)}`;
}

function unitAfter(figure: Figure): string {
  // A language may set its percent sign close to the number or apart.
  if (figure.unit === 'percent') return percent(0).replace(/\d/g, '');
  return `\u00a0${unitOf(figure.unit)}`;
}

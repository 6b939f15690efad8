import type { CylinderView, JobView, LimitLine, PressureUnit, Quantity } from '$/bridge/types';
import { inScale } from './figure';
import { shapeOfLimits, stripUnit } from './strip';
import type { MarkShape } from './mark';
import { inPascals, inUnit, isPressureUnit } from './units';

/** One bar: where it ends on the scale, 0 to 1, and the figure beside it. */
export interface Bar {
  cylinder: number;
  /** The main reading: dry, or the leak that counts. */
  share: number | null;
  /** The second: wet, or the leak as found when it was read again after tapping. */
  second: number | null;
  shape: MarkShape;
}

/** A limit on the scale. */
export interface Line {
  share: number;
  goodIsAbove: boolean;
  says: string;
  source: string;
  limit: string;
}

export interface Chart {
  /** The end of the scale, in its unit. */
  top: number;
  bars: Bar[];
  lines: Line[];
}

/** A round number at or above `value`, so that the scale has plain graduations. */
export function niceTop(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10].find((one) => one * power >= value);
  return Number(((step ?? 10) * power).toPrecision(6));
}

export function chartOf(job: JobView, quantity: Quantity): Chart {
  const unit = stripUnit(job);
  const main = (one: CylinderView): number | null => reading(one, quantity, unit, 'main');
  const second = (one: CylinderView): number | null => reading(one, quantity, unit, 'second');
  const lines = job.summary.lines.filter((line) => line.quantity === quantity);
  const values = job.cylinders
    .flatMap((one) => [main(one), second(one)])
    .concat(lines.map((line) => lineValue(line, unit)))
    .filter((value) => value !== null);
  const top = quantity === 'leak-down' ? leakTop(values) : niceTop(Math.max(0, ...values));
  const share = (value: number | null): number | null =>
    value === null ? null : Math.min(1, value / top);
  return {
    top,
    bars: job.cylinders.map((one) => ({
      cylinder: one.number,
      share: share(main(one)),
      second: share(second(one)),
      shape: shapeOfLimits(one, quantity),
    })),
    lines: lines.map((line) => ({
      share: Math.min(1, lineValue(line, unit) / top),
      goodIsAbove: line.good_is_above,
      says: line.says,
      source: line.source,
      limit: line.limit,
    })),
  };
}

/** Percent never needs more than a hundred. */
function leakTop(values: readonly number[]): number {
  return Math.min(100, niceTop(Math.max(20, ...values)));
}

function reading(
  one: CylinderView,
  quantity: Quantity,
  unit: PressureUnit,
  which: 'main' | 'second',
): number | null {
  if (quantity === 'leak-down') {
    const counts = one.leak_tapped ?? one.leak;
    const before = one.leak_tapped ? one.leak : null;
    return (which === 'main' ? counts : before)?.value ?? null;
  }
  const figure = which === 'main' ? one.dry : one.wet;
  return figure && inScale(figure, unit);
}

function lineValue(line: LimitLine, unit: PressureUnit): number {
  if (!isPressureUnit(line.unit) || line.unit === unit) return line.value;
  return inUnit(inPascals(line.value, line.unit), unit);
}

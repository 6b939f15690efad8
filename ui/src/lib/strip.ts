import type { CylinderView, JobView, PressureUnit, Quantity, Screen } from '$/bridge/types';
import type { Words } from '$/words/en';
import type { Cell } from './cells';
import { inScale, stated } from './figure';
import { list, number, percent, statedFigure } from './format';
import type { MarkShape } from './mark';
import { DECIMALS, unitName } from './units';

/** What the strip is about on a screen. */
export type About = 'plugs' | 'cranking' | 'leak-down' | 'overall';

export function aboutOf(screen: Screen): About {
  return screen === 'plugs' || screen === 'cranking' || screen === 'leak-down' ? screen : 'overall';
}

/** The unit that the strip's pressures are in. */
export function stripUnit(job: JobView): PressureUnit {
  return job.summary.unit ?? job.hand.unit;
}

/** The strip of a job on a screen: one cell per cylinder, in firing order. */
export function cellsOf(job: JobView, screen: Screen, words: Words): Cell[] {
  const about = aboutOf(screen);
  const highest = Math.max(
    ...job.cylinders.map((one) => (one.dry ? inScale(one.dry, stripUnit(job)) : 0)),
    Number.MIN_VALUE,
  );
  return job.cylinders.map((one) => {
    const next = about !== 'overall' && job.hand.cylinder === one.number;
    const shape = shapeOf(job, one, about);
    return {
      cylinder: one.number,
      shape,
      next,
      figure: figureOf(job, one, about),
      level: levelOf(job, one, about, highest),
      word: next && shape === 'open' ? words.strip.word.next : wordOf(one, about, shape, words),
      said: said(one, next, shape, words),
    };
  });
}

/** How a cylinder stands against the limits of one quantity, or of all. */
export function shapeOfLimits(one: CylinderView, quantity: Quantity | null): MarkShape {
  const read =
    quantity === 'cranking'
      ? one.dry !== null || one.wet !== null
      : quantity === 'leak-down'
        ? one.leak !== null || one.leak_tapped !== null
        : one.standing !== 'nothing';
  if (!read) return 'open';
  const verdicts = one.limits
    .filter((limit) => quantity === null || limit.quantity === quantity)
    .map((limit) => limit.verdict);
  if (verdicts.includes('outside')) return 'out';
  if (verdicts.includes('on-the-line')) return 'line';
  return verdicts.includes('inside') ? 'good' : 'read';
}

function shapeOf(job: JobView, one: CylinderView, about: About): MarkShape {
  if (about === 'overall') return shapeOfLimits(one, null);
  if (about !== 'plugs') return shapeOfLimits(one, about);
  if (one.signs.some((sign) => sign !== 'normal') || oddBy(job, one.number) !== null) return 'odd';
  if (one.signs.length > 0) return 'good';
  return one.picture || one.gap ? 'read' : 'open';
}

export function oddBy(job: JobView, cylinder: number): number | null {
  return job.plugs.pictures.find((one) => one.cylinder === cylinder)?.odd_by ?? null;
}

function wordOf(one: CylinderView, about: About, shape: MarkShape, words: Words): string {
  if (about === 'plugs') {
    const sign = one.signs.find((name) => name !== 'normal') ?? one.signs[0];
    if (sign !== undefined) return words.sign[sign] ?? sign;
    return shape === 'open' ? words.strip.word.open : words.strip.word.seen;
  }
  if (shape === 'out' && about === 'cranking' && isLow(one)) return words.strip.word.low;
  if (shape === 'out' && about === 'leak-down') return words.strip.word.leaks;
  return words.strip.word[shape];
}

/** Outside on the low side: every limit on cranking pressure but the highest allowed is one. */
function isLow(one: CylinderView): boolean {
  return one.limits.some(
    (limit) =>
      limit.quantity === 'cranking' &&
      limit.verdict === 'outside' &&
      limit.limit !== 'makers-highest',
  );
}

function figureOf(job: JobView, one: CylinderView, about: About): string | null {
  if (about === 'plugs') return null;
  if (about === 'leak-down') {
    const leak = one.leak_tapped ?? one.leak;
    return leak && number(leak.value, 0);
  }
  const read = one.dry ?? one.wet;
  const unit = stripUnit(job);
  if (!read) return null;
  return read.unit === unit
    ? statedFigure(read.value, unit)
    : number(inScale(read, unit), DECIMALS[unit]);
}

function levelOf(job: JobView, one: CylinderView, about: About, highest: number): number | null {
  if (about === 'plugs') return null;
  if (about === 'leak-down') {
    const leak = one.leak_tapped ?? one.leak;
    return leak && Math.min(1, leak.value / 100);
  }
  const read = one.dry ?? one.wet;
  return read && Math.min(1, inScale(read, stripUnit(job)) / highest);
}

/** What the figures of the strip are of and in. */
export function captionOf(job: JobView, screen: Screen, words: Words): string {
  const about = aboutOf(screen);
  if (about === 'plugs') return words.strip.plug;
  if (about === 'leak-down') return `${words.screens['leak-down'].toLowerCase()}, %`;
  const pressure = `${words.common.dry}, ${unitName(stripUnit(job))}`;
  return about === 'cranking' ? pressure : `${words.strip.overall}; ${pressure}`;
}

/** Everything known of a cylinder, a phrase each. */
export function knownOf(one: CylinderView, words: Words): string[] {
  const { about } = words.common;
  const phrases: string[] = [];
  if (one.dry) phrases.push(words.strip.dry(stated(one.dry, about)));
  if (one.wet) phrases.push(words.strip.wet(stated(one.wet, about)));
  if (one.leak) phrases.push(words.strip.leak(stated(one.leak, about)));
  if (one.leak_tapped) phrases.push(words.strip.tapped(stated(one.leak_tapped, about)));
  if (one.air.length > 0) phrases.push(words.strip.air(list(one.air)));
  if (one.signs.length > 0) phrases.push(`${words.strip.plug} ${list(one.signs)}`);
  if (one.gap) phrases.push(words.strip.gap(stated(one.gap, about)));
  if (one.of_highest !== null) phrases.push(words.strip.ofHighest(percent(one.of_highest)));
  if (one.wet_rise !== null) phrases.push(words.strip.rise(percent(one.wet_rise)));
  return phrases;
}

function said(one: CylinderView, next: boolean, shape: MarkShape, words: Words): string {
  const known = knownOf(one, words);
  const parts = [
    words.common.cylinder(one.number),
    words.strip.meaning[shape],
    ...(known.length > 0 || shape === 'open' ? known : [words.strip.nothing]),
    ...(next ? [words.strip.nextHere] : []),
  ];
  return parts.join(', ');
}

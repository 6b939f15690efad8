import type { CylinderView, EntryView, Figure, LimitLine, LimitView, TurnView } from '../types';

/** A small stand-in for the core's own rules: enough that the screens show every state. The figures
 * it gives are for looking at screens, not for engines. */

const HIGHEST_SOURCE =
  'Ford 1996 F-series/Bronco Workshop Manual, section 03-00; the same in US Army TM 5-4210-230-14&P-1, Addendum 2, and Ford LSG-875 industrial engine service manual, p. 1-08';
const PRACTICE = 'common practice, no source';

export function cylindersOf(
  order: readonly number[],
  entries: readonly EntryView[],
  pictured: ReadonlySet<number>,
): { cylinders: CylinderView[]; lines: LimitLine[] } {
  const standing = entries.filter((entry) => entry.in_force && entry.entry).reverse();
  const cylinders = order.map((number) => one(number, standing, pictured.has(number)));
  const dry = cylinders.map((row) => row.dry?.value ?? 0);
  const highest = Math.max(0, ...dry);
  for (const row of cylinders) limit(row, highest);
  const lines: LimitLine[] = [
    leakLine(10, 'Up to 10 % lost: good', 'good'),
    leakLine(20, 'Up to 20 % lost: moderate', 'moderate'),
  ];
  if (highest > 0) {
    lines.unshift({
      limit: 'lowest-75-of-highest',
      quantity: 'cranking',
      value: highest * 0.75,
      unit: 'psi',
      good_is_above: true,
      says: `At least ${(highest * 0.75).toFixed(1)} psi, 75 % of the highest, ${highest} psi`,
      source: HIGHEST_SOURCE,
    });
  }
  return { cylinders, lines };
}

function leakLine(value: number, says: string, name: string): LimitLine {
  const limit = `plain-leak-bands-${name}`;
  return { limit, quantity: 'leak-down', value, unit: 'percent', good_is_above: false, says, source: PRACTICE };
}

function one(number: number, standing: readonly EntryView[], picture: boolean): CylinderView {
  const row: CylinderView = {
    number,
    standing: 'nothing',
    dry: null,
    wet: null,
    strokes: [],
    leak: null,
    leak_tapped: null,
    leak_area_mm2: null,
    no_area: null,
    air: [],
    signs: [],
    gap: null,
    picture,
    of_highest: null,
    wet_rise: null,
    limits: [],
  };
  for (const line of standing) {
    const entry = line.entry;
    if (entry?.cylinder !== number) continue;
    if (entry.kind === 'cranking') row[entry.wet ? 'wet' : 'dry'] = figure(line);
    if (entry.kind === 'leak-down') row[entry.tapped ? 'leak_tapped' : 'leak'] = figure(line);
    if (entry.kind === 'tap') row.leak_tapped = figure(line);
    if (entry.kind === 'gap') row.gap = figure(line);
    if (entry.kind === 'listening' && entry.at) row.air = [...row.air, entry.at];
    if (entry.kind === 'look') row.signs = [...row.signs, ...(entry.signs ?? []).map(name)];
  }
  return row;
}

export const SIGNS: [string, string][] = [
  ['normal', 'normal'],
  ['dry-carbon', 'dry soot'],
  ['oil-wet', 'wet with oil'],
  ['fuel-wet', 'wet with fuel'],
  ['blistered-white', 'burnt white'],
  ['glazed', 'glazed'],
  ['bridged', 'gap bridged'],
  ['ash', 'ash'],
  ['melted', 'melted'],
  ['cracked', 'cracked'],
  ['metal-specks', 'metal specks'],
  ['worn', 'worn'],
];

function name(sign: string): string {
  return SIGNS.find(([id]) => id === sign)?.[1] ?? sign;
}

function figure(line: EntryView): Figure {
  const entry = line.entry;
  return {
    entry: line.id,
    value: entry?.value ?? 0,
    unit: entry?.unit ?? 'percent',
    from: entry?.from ?? null,
    to: entry?.to ?? null,
    about: entry?.about ?? false,
    supply: null,
    cylinder_side: null,
    supply_unit: null,
    tester: null,
  };
}

function limit(row: CylinderView, highest: number): void {
  if (row.dry && highest > 0) {
    row.of_highest = row.dry.value / highest;
    const least = highest * 0.75;
    row.limits.push({
      limit: 'lowest-75-of-highest',
      quantity: 'cranking',
      verdict: row.dry.value >= least ? 'inside' : 'outside',
      says: `${row.dry.value} psi; at least ${least.toFixed(1)} psi, 75 % of the highest, ${highest} psi`,
      band: null,
      asks: null,
      source: HIGHEST_SOURCE,
      note: '',
    });
  }
  if (row.dry && row.wet) row.wet_rise = row.wet.value / row.dry.value - 1;
  const leak = row.leak_tapped ?? row.leak;
  if (leak) {
    row.leak_area_mm2 = Math.round((leak.value / (100 - leak.value)) * 81) / 100;
    row.limits.push(leakLimit(leak));
  }
  const verdicts = row.limits.map((one) => one.verdict);
  const known = row.signs.length > 0 || row.wet !== null || row.air.length > 0 || row.picture;
  row.standing = verdicts.includes('outside')
    ? 'outside'
    : verdicts.includes('on-the-line')
      ? 'on-the-line'
      : verdicts.length > 0
        ? 'inside'
        : known
          ? 'known'
          : 'nothing';
}

function leakLimit(leak: Figure): LimitView {
  const [low, high] = [leak.from ?? leak.value, leak.to ?? leak.value];
  return {
    limit: 'plain-leak-bands',
    quantity: 'leak-down',
    verdict: high <= 20 ? 'inside' : low <= 20 ? 'on-the-line' : 'outside',
    says: `${leak.value} % lost: ${high <= 10 ? 'good' : high <= 20 ? 'moderate' : high <= 30 ? 'poor' : 'major'}`,
    band: null,
    asks: null,
    source: PRACTICE,
    note: '',
  };
}

/** The even four-stroke round. */
export function roundOf(order: readonly number[]): TurnView[] {
  const turn = 720 / order.length;
  return order.map((cylinder, place) => ({
    cylinder,
    turn_degrees: place === 0 ? 0 : turn,
    from_start_degrees: place * turn,
    shares_mark_with: order.filter((_, at) => at !== place && ((at - place) * turn) % 360 === 0),
  }));
}

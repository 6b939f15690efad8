import { describe, expect, test } from 'vitest';
import type { JobView, LimitView, VerdictWord } from '$/bridge/types';
import { CASES, type Case } from '$/bridge/mock/cases';
import { cylindersOf, roundOf } from '$/bridge/mock/trade';
import { en } from '$/words/en';
import { captionOf, cellsOf, knownOf, shapeOfLimits } from './strip';

function viewOf(of: Case): JobView {
  const order = of.draft.engine.firing_order;
  const { cylinders, lines } = cylindersOf(order, of.entries, new Set(of.pictured));
  return {
    id: of.id,
    revision: 1,
    begun: of.begun,
    draft: of.draft,
    entries: of.entries,
    cylinders,
    summary: { rule_set: '', unit: 'psi', highest: null, lowest: null, lowest_of_highest: null, most_leak_percent: null, lines, put_aside: [] },
    plugs: { pictures: [], comparable: false, why_not: null, pairs: [], pattern: null },
    round: roundOf(order),
    hand: { screen: 'cranking', cylinder: 3, wet: false, unit: 'psi' },
    question: null,
  };
}

function job(id: string): JobView {
  const found = CASES.find((one) => one.id === id);
  if (!found) throw new Error(id);
  return viewOf(structuredClone(found));
}

test('the strip stands in firing order', () => {
  expect(cellsOf(job('six'), 'cranking', en).map((cell) => cell.cylinder)).toEqual([1, 5, 3, 6, 2, 4]);
});

test('each screen shows its own quantity', () => {
  const six = job('six');
  const of = (screen: 'plugs' | 'cranking' | 'leak-down'): (string | null)[] =>
    cellsOf(six, screen, en).map((cell) => cell.figure);
  expect(of('cranking')).toEqual(['152', '60', '105', '152', '150', '155']);
  expect(of('leak-down')).toEqual(['8', '62', '28', '7', '12', '6']);
  expect(of('plugs')).toEqual([null, null, null, null, null, null]);
});

test('a state has its own word and its own shape', () => {
  const six = cellsOf(job('six'), 'cranking', en);
  expect(six.map((cell) => [cell.word, cell.shape])).toEqual([
    ['good', 'good'],
    ['low', 'out'],
    ['low', 'out'],
    ['good', 'good'],
    ['good', 'good'],
    ['good', 'good'],
  ]);
  const plugs = cellsOf(job('six'), 'plugs', en);
  expect(plugs.map((cell) => cell.word)).toEqual(['fine', 'soot', 'oily', 'fine', 'fine', 'fine']);
});

test('what is not read is open, and the one expected says so', () => {
  const half = cellsOf(job('half'), 'cranking', en);
  expect(half.find((cell) => cell.cylinder === 3)).toMatchObject({ word: 'next', shape: 'open', next: true, level: null });
  expect(half.find((cell) => cell.cylinder === 6)).toMatchObject({ word: 'open', shape: 'open', next: false });
});

test('nothing is expected next where nothing is read', () => {
  expect(cellsOf(job('half'), 'findings', en).some((cell) => cell.next)).toBe(false);
});

test('a reading in another unit stands on the scale of the strip', () => {
  const view = job('six');
  const bar = view.cylinders.find((one) => one.number === 2)?.dry;
  if (!bar) throw new Error('no reading');
  bar.value = 10.3;
  bar.unit = 'bar';
  // 10.3 bar is 149.4 psi (NIST SP 811).
  expect(cellsOf(view, 'cranking', en).find((cell) => cell.cylinder === 2)?.figure).toBe('149');
});

describe('against the limits', () => {
  const limit = (verdict: VerdictWord): LimitView => ({
    limit: 'l', quantity: 'cranking', verdict, says: '', band: null, asks: null, source: '', note: '',
  });
  test.each<[VerdictWord[], string]>([
    [['inside', 'outside'], 'out'],
    [['inside', 'on-the-line'], 'line'],
    [['inside', 'not-tested'], 'good'],
    [['not-tested'], 'read'],
    [[], 'read'],
  ])('%j is %s', (verdicts, shape) => {
    const one = job('six').cylinders[0];
    if (!one) throw new Error('no cylinder');
    expect(shapeOfLimits({ ...one, limits: verdicts.map(limit) }, 'cranking')).toBe(shape);
  });
});

test('the caption names what the figures are of, and their unit', () => {
  expect(captionOf(job('six'), 'cranking', en)).toBe('dry, psi');
  expect(captionOf(job('six'), 'leak-down', en)).toBe('leak-down, %');
});

test('all that is known is said with its units', () => {
  const five = job('six').cylinders.find((one) => one.number === 5);
  expect(five && knownOf(five, en)).toEqual([
    'dry 60\u00a0psi',
    'wet 65\u00a0psi',
    'leak-down 62%',
    'air at exhaust',
    'plug dry soot',
    '39% of the highest',
    '8% up with oil',
  ]);
});

test('one cylinder and sixteen make strips too, and an empty job an open one', () => {
  expect(cellsOf(job('one'), 'cranking', en)).toHaveLength(1);
  expect(cellsOf(job('sixteen'), 'cranking', en)).toHaveLength(16);
  expect(cellsOf(job('empty'), 'findings', en).every((cell) => cell.shape === 'open')).toBe(true);
});

import { describe, expect, test } from 'vitest';
import { roundOf } from '$/bridge/mock/trade';
import { heardPaths, strength } from './air';
import { niceTop } from './chart';
import { circleIn, cropOf, zoomed } from './crop';
import { banksFrom, banksOf, firingOrder, firstOrder, usualOrders } from './engines';
import { keyed, keyedNumber, type KeyedKey } from './keyed';
import { marksFrom, turnBetween } from './round';
import { strokesNow } from './strokes';

describe('turning the crank', () => {
  const six = roundOf([1, 5, 3, 6, 2, 4]);

  test('from one cylinder to the next in firing order is a sixth of two turns', () => {
    expect(turnBetween(six, 1, 5)).toBe(120);
  });

  test('to a cylinder that was passed the way leads on round', () => {
    expect(turnBetween(six, 5, 1)).toBe(600);
    expect(turnBetween(six, 4, 1)).toBe(120);
  });

  test('to itself there is nothing to turn, and to none there is no way', () => {
    expect(turnBetween(six, 3, 3)).toBe(0);
    expect(turnBetween(six, 3, 7)).toBeNull();
  });

  test('a mark serves the two cylinders that are one turn apart', () => {
    expect(marksFrom(six, 1)).toEqual([
      { degrees: 0, cylinders: [1, 6] },
      { degrees: 120, cylinders: [5, 2] },
      { degrees: 240, cylinders: [3, 4] },
    ]);
  });
});

describe('keys', () => {
  const type = (keys: string): string => [...keys].reduce((text, key) => keyed(text, key as KeyedKey), '');

  test('a number is put in key by key', () => {
    expect(type('9.5')).toBe('9.5');
    expect(keyedNumber(type('152'))).toBe(152);
  });

  test('a point alone begins with nought; a second one and a leading nought change nothing', () => {
    expect(type('.9')).toBe('0.9');
    expect(type('1.2.3')).toBe('1.23');
    expect(type('07')).toBe('7');
  });

  test('more digits than any gauge has are not taken', () => {
    expect(type('123456789')).toBe('123456');
  });

  test('erasing ends at nothing, which is no number', () => {
    expect(keyed('5', 'erase')).toBe('');
    expect(keyedNumber('')).toBeNull();
  });
});

test('five strokes in two seconds are 240 turns a minute', () => {
  expect(strokesNow([0, 500, 1000, 1500, 2000])).toEqual({ strokes: 5, seconds: 2, turnsPerMinute: 240 });
  expect(strokesNow([])).toEqual({ strokes: 0, seconds: 0, turnsPerMinute: null });
  expect(strokesNow([7]).turnsPerMinute).toBeNull();
});

describe('engines', () => {
  test.each(Array.from({ length: 18 }, (_, n) => n + 1))('a form with %d cylinders begins whole', (n) => {
    expect(firingOrder(firstOrder(n), n)).toHaveLength(n);
    for (const order of usualOrders(n)) expect(firingOrder(order, n)).not.toBeNull();
  });

  test.each([
    ['1-5-3-6-2', 6],
    ['1-5-3-6-2-2', 6],
    ['1-5-3-6-2-7', 6],
    ['1-x-3', 3],
    ['', 1],
  ])('"%s" is no order of %d', (text, n) => {
    expect(firingOrder(text, n)).toBeNull();
  });

  test('banks hold each cylinder once', () => {
    expect(banksFrom('1-3-5 / 2-4-6', 6)).toEqual([[1, 3, 5], [2, 4, 6]]);
    expect(banksFrom('1-3-5 / 2-4-5', 6)).toBeNull();
    expect(banksOf('vee', 5)).toEqual([[1, 2, 3], [4, 5]]);
  });
});

test('a scale ends at a round number at or above the highest', () => {
  expect([155, 200, 12.1, 62, 0].map(niceTop)).toEqual([200, 200, 15, 80, 1]);
});

test('side by side, a circle lies in the middle at one size, whatever the picture', () => {
  for (const size of [{ width: 800, height: 600 }, { width: 4000, height: 3000 }]) {
    const circle = { x_px: size.width / 2, y_px: size.height / 2, radius_px: size.width / 10 };
    const crop = cropOf(size, circle, 1);
    expect(crop.left + crop.width / 2).toBeCloseTo(0.5);
    expect(crop.width / 10).toBeCloseTo(0.2);
  }
});

test('a circle cannot be dragged out of its picture', () => {
  const size = { width: 800, height: 600 };
  expect(circleIn({ x_px: -50, y_px: 900, radius_px: 40 }, size)).toEqual({ x_px: 40, y_px: 560, radius_px: 40 });
  expect(circleIn({ x_px: 400, y_px: 300, radius_px: 9000 }, size).radius_px).toBe(300);
});

test('zoom has ends', () => {
  expect(zoomed(3, 10)).toBe(4);
  expect(zoomed(1, 0.01)).toBe(0.6);
});

test('weights have words, and air its paths in their order', () => {
  expect([2.4, 1.2, 0.5, 0.1].map(strength)).toEqual(['strong', 'clear', 'some', 'little']);
  expect(heardPaths([])).toEqual([]);
});

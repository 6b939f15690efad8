import { describe, expect, test } from 'vitest';
import { inPascals, inUnit } from './units';
import { degrees, percent, probability, statedFigure, statedPressure, typedNumber } from './format';

describe('pressures', () => {
  test.each([
    [152, 'psi', '152\u00a0psi'],
    [9.5, 'bar', '9.5\u00a0bar'],
    [10, 'bar', '10.0\u00a0bar'],
    [1048, 'kPa', '1,048\u00a0kPa'],
    [10.7, 'kgf/cm2', '10.7\u00a0kgf/cm²'],
  ] as const)('%d %s is shown as %s', (value, unit, shown) => {
    expect(statedPressure(value, unit)).toBe(shown);
  });

  test('what was said to a tenth keeps its tenth, and no float shows through', () => {
    expect(statedFigure(152.5, 'psi')).toBe('152.5');
    expect(statedFigure(0.1 + 0.2, 'bar')).toBe('0.3');
  });

  // Outside check. NIST SP 811 (2008), appendix B.8: 1 psi = 6.894 757 E+03 Pa.
  test('a psi in pascals is that of NIST SP 811', () => {
    expect(inPascals(1, 'psi')).toBeCloseTo(6894.757, 3);
    expect(inUnit(1e5, 'bar')).toBe(1);
  });
});

test('a probability is never all or nothing', () => {
  expect(probability(0.99999)).toBe('> 99%');
  expect(probability(0.0001)).toBe('< 1%');
  expect(probability(0.827)).toBe('83%');
});

test('a share has digits only where asked', () => {
  expect(percent(0.0198)).toBe('2%');
  expect(percent(0.0198, 1)).toBe('2%');
  expect(percent(0.0148, 1)).toBe('1.5%');
});

test('crank degrees show a tenth only where there is one', () => {
  expect(degrees(120)).toBe('120°');
  expect(degrees(51.428571)).toBe('51.4°');
});

describe('typed numbers', () => {
  test.each([
    ['84', 84],
    ['84,5', 84.5],
    [' 1 048 ', 1048],
    ['-3', -3],
    ['0.040', 0.04],
  ])('"%s" is %d', (text, value) => {
    expect(typedNumber(text)).toBe(value);
  });

  test.each(['', '84.', 'abc', '1.2.3', '12 mm', 'NaN', 'Infinity', '1e3'])('"%s" is none', (text) => {
    expect(typedNumber(text)).toBeNull();
  });
});

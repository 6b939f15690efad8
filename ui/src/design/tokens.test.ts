import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

// Outside check: WCAG 2.2, success criteria 1.4.6 (text 7:1) and 1.4.11 (parts 3:1), with the
// relative luminance of its glossary.

const css = readFileSync(new URL('./tokens.css', import.meta.url), 'utf8');

function colours(selector: string): Record<string, string> {
  const block = css.split(`${selector} {`)[1]?.split('}')[0] ?? '';
  return Object.fromEntries(
    [...block.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6});/g)].map(([, name, hex]) => [name, hex]),
  );
}

const base = colours(':root');
const themes: Record<string, Record<string, string>> = {
  bonnet: base,
  sun: { ...base, ...colours(":root[data-theme='sun']") },
  night: { ...base, ...colours(":root[data-theme='night']") },
};

function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one: string, other: string): number {
  const [high = 0, low = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (high + 0.05) / (low + 0.05);
}

test('black on white is 21 to 1', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
});

describe.each(Object.keys(themes))('%s', (name) => {
  const theme = themes[name] ?? {};
  const of = (token: string): string => theme[token] ?? '';
  const TEXT = ['ink', 'ink-soft', 'good', 'watch', 'out', 'next'];

  test.each(TEXT.flatMap((text) => ['ground', 'panel', 'raised'].map((on) => [text, on])))(
    '%s on %s has 7:1',
    (text, on) => {
      expect(contrast(of(text), of(on))).toBeGreaterThanOrEqual(7);
    },
  );

  test('the main key has 7:1', () => {
    expect(contrast(of('on-key'), of('key'))).toBeGreaterThanOrEqual(7);
  });

  test('what is chosen is written in the ground on ink with 7:1', () => {
    expect(contrast(of('ground'), of('ink'))).toBeGreaterThanOrEqual(7);
  });

  test.each(['good', 'watch', 'out'])('the sign within the %s shape has 3:1', (mark) => {
    expect(contrast(of('on-mark'), of(mark))).toBeGreaterThanOrEqual(3);
  });

  test.each(['ground', 'panel', 'raised'])('the rule round a control on %s has 3:1', (on) => {
    expect(contrast(of('rule'), of(on))).toBeGreaterThanOrEqual(3);
  });
});

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { close, launch, open, settle, SIZES, type First, type Size } from './browser';
import { faults, inView } from './measures';
import { differs } from './pictures';
import { PLACES, type Place } from './places';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Look {
  name: string;
  size: Size;
  first: First;
  /** Every place, or only those that are looked at always. */
  all: boolean;
  /** Whether rules of accessibility are run: they depend on content and colours, not on room. */
  rules: boolean;
  /** Whether it is compared with the picture that is kept. */
  picture: boolean;
}

const [small, large, side, tablet] = SIZES as [Size, Size, Size, Size];
const LOOKS: readonly Look[] = [
  { name: 'small', size: small, first: {}, all: true, rules: true, picture: true },
  { name: 'largest', size: small, first: { text_size: 'largest' }, all: true, rules: false, picture: false },
  { name: 'side', size: side, first: {}, all: true, rules: false, picture: true },
  { name: 'large', size: large, first: {}, all: false, rules: false, picture: false },
  { name: 'tablet', size: tablet, first: {}, all: false, rules: false, picture: true },
  { name: 'sun', size: small, first: { theme: 'sun' }, all: false, rules: true, picture: true },
  { name: 'night', size: small, first: { theme: 'night', hand: 'left' }, all: false, rules: true, picture: true },
];

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(async () => {
  await browser.close();
});

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  const results = await page.evaluate(async (): Promise<AxeResults> => {
    const { axe } = globalThis as unknown as { axe: typeof import('axe-core') };
    return axe.run(document, { resultTypes: ['violations'], rules: { 'color-contrast-enhanced': { enabled: true } } });
  });
  return results.violations.map(
    (one) => `${one.id}: ${one.nodes.map((node) => `${node.target.join(' ')} ${node.failureSummary ?? ''}`).join(' | ')}`,
  );
}

async function look(place: Place, { name, size, first, rules, picture }: Look): Promise<void> {
  const page = await open(browser, place.at, size, first);
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  try {
    await settle(page);
    await place.act?.(page);
    await settle(page);
    expect(errors).toEqual([]);
    expect(await faults(page)).toEqual([]);
    if (place.at.startsWith('#/job/') && place.name !== 'problem') {
      expect(await inView(page, 'strip'), 'the strip is in view').toBe(true);
    }
    if (rules) expect(await violations(page)).toEqual([]);
    if (picture) expect(differs(`${place.name}-${name}`, await page.screenshot())).toBeNull();
  } finally {
    await close(page);
  }
}

describe.each(LOOKS)('$name', (of) => {
  test.each(PLACES.filter((place) => of.all || place.always))('$name', async (place) => {
    await look(place, of);
  });
});

import { chromium, type Browser, type Page } from 'playwright-core';
import { inject } from 'vitest';
import type { StandIn } from '../src/bridge/mock/stand-in';

export interface Size {
  name: string;
  width: number;
  height: number;
}

export const SIZES: readonly Size[] = [
  { name: 'small', width: 360, height: 640 },
  { name: 'large', width: 430, height: 932 },
  { name: 'side', width: 844, height: 390 },
  { name: 'tablet', width: 820, height: 1180 },
];

export type First = Partial<StandIn['settings']>;

export async function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--force-color-profile=srgb', '--font-render-hinting=none', '--disable-gpu'],
  });
}

/** Opens the app at a place. No clock of the machine and no motion come into a picture. */
export async function open(
  browser: Browser,
  place: string,
  size: Size,
  first: First = {},
): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: size.width, height: size.height },
    reducedMotion: 'reduce',
    locale: 'en-GB',
    timezoneId: 'UTC',
    hasTouch: true,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  await page.addInitScript(`window.settingsFirst = ${JSON.stringify(first)};`);
  await page.addInitScript(inject('standIn'));
  await page.goto(`${inject('address')}${place}`);
  await page.locator('[data-testid="app"][data-ready="true"]').waitFor();
  await page.locator('[data-testid^="screen-"]').first().waitFor();
  await page.evaluate(async () => document.fonts.ready);
  return page;
}

export async function close(page: Page): Promise<void> {
  await page.context().close();
}

/** Everything at rest: pictures loaded, no animation. */
export async function settle(page: Page): Promise<void> {
  const frames = (): Promise<void> =>
    page.evaluate(
      () =>
        new Promise<void>((resolve) => {
          requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
        }),
    );
  await frames();
  // A plug's place is there before its picture.
  await page.waitForFunction(
    () =>
      [...document.querySelectorAll('[data-awaits]')].every((one) => one.querySelector('img, image')) &&
      [...document.images].every((image) => image.complete),
  );
  await frames();
}

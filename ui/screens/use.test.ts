import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { close, launch, open, settle, SIZES } from './browser';
import { tap } from './places';

const [small] = SIZES as [(typeof SIZES)[number]];

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await launch();
});
afterEach(async () => {
  await close(page);
});
afterAll(async () => {
  await browser.close();
});

const text = async (testid: string): Promise<string> =>
  (await page.getByTestId(testid).first().innerText()).replaceAll('\u00a0', ' ').trim();

/** How far anything moved by itself since the last call, as browsers measure it (CLS). */
async function watchShifts(): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const seen = globalThis as unknown as { shifts: number };
    seen.shifts = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) seen.shifts += (entry as unknown as { value: number }).value;
    }).observe({ type: 'layout-shift' });
  });
  return async () => page.evaluate(() => (globalThis as unknown as { shifts: number }).shifts);
}

test('a reading that is heard stands large with its cylinder and unit, and moves nothing', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  await tap('cautions-cranking-seen')(page);
  await settle(page);
  const shifts = await watchShifts();
  const before = await page.getByTestId('dock').boundingBox();
  await page.evaluate(async () => {
    for (let step = 0; step < 40; step += 1) {
      await window.core.tell({ event: 'level', mean_dbfs: -60 + step, peak_dbfs: -50 + step, speech: step > 5 });
    }
    await window.core.say({ kind: 'cranking', cylinder: 3, value: 105, unit: 'psi', wet: false });
  });
  await page.getByTestId('plate').waitFor();
  expect(await text('plate-value')).toBe('105');
  expect(await text('plate')).toContain('Cylinder 3');
  expect(await text('plate')).toContain('psi');
  expect(await text('plate')).toContain('low');
  const figure = await page.getByTestId('plate-value').boundingBox();
  expect(figure?.width, 'the number fills half of the window and more').toBeGreaterThan(small.width / 2);
  expect(await page.getByTestId('dock').boundingBox()).toEqual(before);
  expect(await page.getByTestId('strip-3').getAttribute('data-shape')).toBe('out');
  await tap('plate')(page);
  expect(await page.getByTestId('plate').count()).toBe(0);
  // What changes within a cell of the strip is all: a control that moved by its height is 0.02.
  expect(await shifts()).toBeLessThan(0.001);
});

test('the last reading is taken back by thumb', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  await tap('cautions-cranking-seen', 'type', 'pick-3', 'key-1', 'key-0', 'key-5', 'entry-take')(page);
  await page.getByTestId('plate').waitFor();
  expect(await text('take-back')).toContain('3: 105 psi');
  await tap('take-back')(page);
  await page.waitForFunction(() => document.querySelector('[data-testid="strip-3"]')?.getAttribute('data-shape') === 'open');
  expect(await text('plate')).toContain('Taken back');
});

test('a reading put in by thumb goes to the core with its unit', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  await tap('cautions-cranking-seen', 'type', 'pick-6', 'key-9', 'key-point', 'key-5', 'entry-unit-bar', 'entry-bore-wet', 'entry-take')(page);
  await page.getByTestId('plate').waitFor();
  const called = await page.evaluate(() => window.core.called.filter((one) => one.name === 'entry_type'));
  expect(called).toEqual([
    { name: 'entry_type', takes: { entry: { kind: 'cranking', cylinder: 6, value: 9.5, unit: 'bar', wet: true } } },
  ]);
});

test('what the core refuses stays in the form, with the reason', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  await tap('cautions-cranking-seen', 'type', 'key-9', 'key-9', 'key-9', 'key-9', 'entry-take')(page);
  await page.getByText('Allowed: 0 to 1200 psi').waitFor();
  expect(await text('entry-shown')).toContain('9999');
});

test('what was keyed and not taken is there again after the app was killed', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  await tap('cautions-cranking-seen', 'type', 'key-1', 'key-4')(page);
  await page.reload();
  await page.locator('[data-testid="app"][data-ready="true"]').waitFor();
  await tap('type')(page);
  expect(await text('entry-shown')).toContain('14');
});

test('a new job that is half filled in is there again after the app was killed, then begun', async () => {
  page = await open(browser, '#/new', small);
  await page.getByTestId('vehicle').fill('Tractor (invented)');
  await page.getByTestId('firing-order').fill('1-3-4');
  expect(await page.getByTestId('begin').isDisabled()).toBe(true);
  await page.reload();
  await page.locator('[data-testid="app"][data-ready="true"]').waitFor();
  expect(await page.getByTestId('vehicle').inputValue()).toBe('Tractor (invented)');
  expect(await page.getByTestId('firing-order').inputValue()).toBe('1-3-4');
  await page.getByTestId('firing-order').fill('1-3-4-2');
  await tap('begin')(page);
  await page.getByTestId('screen-plugs').waitFor();
  expect(await page.locator('[data-testid^="strip-"]').count()).toBe(4);
});

test('the open job is described anew as it is typed, and half a firing order is not lost', async () => {
  page = await open(browser, '#/job/half/intake', small);
  await page.getByTestId('customer').fill('C. Buyer (invented)');
  await page.locator('[data-testid="saved"][data-state="saved"]').waitFor();
  const revised = await page.evaluate(() => window.core.now?.draft.customer);
  expect(revised).toBe('C. Buyer (invented)');
  await page.getByTestId('firing-order').fill('1-5-3');
  await tap('screen-switch', 'go-findings')(page);
  await tap('screen-switch', 'go-intake')(page);
  expect(await page.getByTestId('firing-order').inputValue()).toBe('1-5-3');
  expect(await page.evaluate(() => window.core.now?.draft.engine.firing_order.length)).toBe(6);
});

test('a question is answered by thumb, and nothing else can be touched before', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  const ask = (): Promise<void> =>
    page.evaluate(async () => {
      const of = (value: number) => ({ kind: 'cranking', cylinder: 3, value, unit: 'psi', wet: false });
      await window.core.ask([of(90), of(19)]);
    });
  await ask();
  await page.getByTestId('ask').waitFor();
  const box = await page.getByTestId('ask-first').boundingBox();
  expect(box?.height).toBeGreaterThanOrEqual(96);
  expect(await page.getByTestId('dock').getAttribute('inert')).not.toBeNull();
  await tap('ask-neither')(page);
  await page.getByTestId('ask').waitFor({ state: 'detached' });
  expect(await page.getByTestId('strip-3').getAttribute('data-shape')).toBe('open');
  await ask();
  await tap('ask-second')(page);
  await page.getByTestId('plate').waitFor();
  expect(await text('plate-value')).toBe('19');
});

test('hands free, listening begins by itself and the control says what it does', async () => {
  page = await open(browser, '#/job/half/cranking', small);
  await page.locator('[data-testid="listen"][data-ear="listening"]').waitFor();
  expect(await text('listen')).toContain('Next: 3 dry');
  await page.evaluate(async () => window.core.tell({ event: 'speech-began' }));
  expect(await text('listen')).toContain('Hearing you');
  await page.evaluate(async () => window.core.tell({ event: 'working', waiting: 0 }));
  expect(await text('listen')).toContain('Making it out');
  await tap('listen')(page);
  await page.locator('[data-testid="listen"][data-ear="off"]').waitFor();
  // Stopped by thumb, a change of screen does not start it again.
  await tap('screen-switch', 'go-plugs')(page);
  await settle(page);
  expect(await page.getByTestId('listen').getAttribute('data-ear')).toBe('off');
});

test('with one tap for each reading, nothing listens by itself', async () => {
  page = await open(browser, '#/job/half/cranking', small, { hands_free: false });
  await settle(page);
  expect(await text('listen')).toContain('Speak');
  await tap('listen')(page);
  const started = await page.evaluate(() => window.core.called.find((one) => one.name === 'listen_start')?.takes);
  expect(started).toEqual({ mode: 'press' });
});

test.each([
  'No microphone was found.',
  'The microphone is in use by another program.',
  'The microphone may not be used: the system denies it.',
])('"%s" is said in words, and thumbs still work', async (what) => {
  page = await open(browser, '#/job/half/cranking', small);
  await page.evaluate(async (said) => {
    const problem = { what: said, allowed: null, hint: '', field: null };
    await window.core.tell({ event: 'microphone', microphone: { state: 'failed', mode: null, source: 'microphone', problem } });
  }, what);
  expect(await text('microphone-trouble')).toBe(what);
  expect(await text('listen')).toContain('No hearing');
  await tap('cautions-cranking-seen', 'type', 'key-9', 'key-0', 'entry-take')(page);
  await page.getByTestId('plate').waitFor();
});

test('air goes on only after all three things were seen', async () => {
  page = await open(browser, '#/job/half/leak-down', small);
  await tap('cautions-turning-seen', 'at-top', 'cautions-air-5-seen', 'must-see-0', 'must-see-1')(page);
  expect(await page.getByTestId('air-on').isDisabled()).toBe(true);
  await tap('must-see-2', 'air-on', 'exit-exhaust')(page);
  const heard = await page.evaluate(() => window.core.now?.entries[0]?.entry);
  expect(heard).toEqual({ kind: 'listening', cylinder: 5, at: 'exhaust' });
});

test('the way from one cylinder to the next is told in crank degrees, with who shares the mark', async () => {
  page = await open(browser, '#/job/half/leak-down', small);
  await tap('cautions-turning-seen', 'at-top', 'cautions-air-5-seen', 'must-see-0', 'must-see-1', 'must-see-2', 'air-on')(page);
  await page.evaluate(async () => window.core.say({ kind: 'leak-down', cylinder: 5, value: 62, unit: 'percent' }));
  await tap('plate', 'air-off')(page);
  await page.getByTestId('turn-dial').waitFor();
  expect(await text('turn-guide')).toContain('Turn 120° in the direction of rotation');
  expect(await text('shares')).toContain('The same mark serves 3 and 4.');
});

test('a picture goes to the core as it is; a refusal shows its reason', async () => {
  page = await open(browser, '#/job/half/plugs', small);
  const picture = { name: 'plug.jpg', mimeType: 'image/jpeg', buffer: Buffer.from([0xff, 0xd8, 0xff, 0xe0]) };
  expect(await page.getByTestId('take-next').getAttribute('accept')).toBe('image/*');
  await page.getByTestId('take-next').setInputFiles(picture);
  await page.waitForFunction(() => window.core.called.some((one) => one.name === 'picture_add'));
  const takes = await page.evaluate(() => window.core.called.find((one) => one.name === 'picture_add')?.takes);
  expect(takes).toEqual({ target: { of: 'plug', cylinder: 6 }, data: '/9j/4A==' });
  await page.evaluate(() => {
    window.core.refusals.picture_add = { what: 'picture: it is too dark to read the insulator', allowed: null, hint: 'Turn on a lamp and take it again.', field: null };
  });
  await page.getByTestId('take-next').setInputFiles(picture);
  await page.getByTestId('picture-refused').waitFor();
  expect(await text('picture-refused')).toContain('too dark');
  expect(await text('picture-refused')).toContain('Turn on a lamp');
});

test('a finding says why, and plays what was said', async () => {
  page = await open(browser, '#/job/six/findings', small);
  await tap('why-open')(page);
  expect(await text('why')).toContain('air heard at the exhaust');
  await page.getByTestId('why').getByTestId('play-e17').click();
  await page.waitForFunction(() => window.core.called.some((one) => one.name === 'clip_of'));
});

test('nothing on any screen says whether to buy', async () => {
  page = await open(browser, '#/job/six/findings', small);
  const shown = (await page.locator('body').innerText()).replaceAll('Buyer', '');
  expect(shown).not.toMatch(/\bbuy\b/i);
});

test('a document is made, leafed through and saved; a later reading makes it stale', async () => {
  page = await open(browser, '#/job/six/handover', small);
  await tap('make', 'page-after', 'save')(page);
  expect(await text('pages')).toContain('Page 2 of 3');
  expect(await text('saved-path')).toContain('.pdf');
  await page.evaluate(async () => window.core.say({ kind: 'leak-down', cylinder: 4, value: 9, unit: 'percent' }));
  await page.getByTestId('stale').waitFor();
});

test('settings hold at once', async () => {
  page = await open(browser, '#/settings', small);
  await tap('theme-sun', 'text-size-large', 'hand-left')(page);
  const root = await page.evaluate(() => ({ ...document.documentElement.dataset }));
  expect(root).toMatchObject({ theme: 'sun', text: 'large', hand: 'left' });
  expect(await page.evaluate(() => window.core.settings.theme)).toBe('sun');
});

test('jobs are found by what is typed', async () => {
  page = await open(browser, '#/jobs', small);
  await page.getByTestId('search').fill('pump');
  await page.waitForFunction(() => document.querySelectorAll('[data-testid^="job-"]').length === 1);
  await page.getByTestId('search').fill('no such thing');
  await page.getByTestId('no-jobs').waitFor();
});

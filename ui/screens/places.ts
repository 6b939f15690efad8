import type { Page } from 'playwright-core';

/** A place of the app that is looked at, and what is done to get there. */
export interface Place {
  name: string;
  at: string;
  act?: (page: Page) => Promise<void>;
  /** Looked at in every look, not only where the room is least. */
  always?: true;
}

const tap =
  (...testids: string[]) =>
  async (page: Page): Promise<void> => {
    for (const testid of testids) {
      const control = page.getByTestId(testid).first();
      // A click counts a control as in view whose middle is still under the strip.
      await control.evaluate((element) => element.scrollIntoView({ block: 'center' }));
      await control.click();
    }
  };

const say =
  (...entries: Parameters<Window['core']['say']>) =>
  async (page: Page): Promise<void> => {
    await page.evaluate(async (said) => window.core.say(...said), entries);
    await page.getByTestId('plate').waitFor();
  };

/** In the order of the work. Each begins in a fresh page, so none leans on another. */
export const PLACES: readonly Place[] = [
  { name: 'jobs', always: true, at: '#/jobs' },
  { name: 'new', at: '#/new' },
  { name: 'settings', always: true, at: '#/settings' },
  { name: 'intake', always: true, at: '#/job/six/intake' },
  { name: 'screens', at: '#/job/half/intake', act: async (page) => {
    // On a tablet all screens stand side by side, and there is no list.
    if (await page.getByTestId('screen-switch').isVisible()) await tap('screen-switch')(page);
  } },
  { name: 'cylinders', at: '#/job/six/cranking', act: tap('strip') },
  { name: 'plugs', always: true, at: '#/job/six/plugs', act: tap('cautions-plugs-seen') },
  { name: 'plug', at: '#/job/six/plugs', act: tap('plug-5') },
  { name: 'compare', at: '#/job/six/plugs', act: tap('compare') },
  { name: 'cautions', at: '#/job/half/cranking' },
  { name: 'cranking', always: true, at: '#/job/half/cranking', act: tap('cautions-cranking-seen') },
  { name: 'taken', always: true, at: '#/job/half/cranking', act: say({ kind: 'cranking', cylinder: 3, value: 105, unit: 'psi', wet: false }) },
  { name: 'ask', always: true, at: '#/job/half/cranking', act: async (page) => {
    await page.evaluate(async () => {
      const of = (value: number) => ({ kind: 'cranking', cylinder: 3, value, unit: 'psi', wet: false });
      await window.core.ask([of(90), of(19)]);
    });
    await page.getByTestId('ask').waitFor();
  } },
  { name: 'keypad', at: '#/job/half/cranking', act: tap('cautions-cranking-seen', 'type', 'key-1', 'key-4') },
  { name: 'timer', at: '#/job/half/cranking', act: tap('cautions-cranking-seen', 'timer-open') },
  { name: 'no-microphone', always: true, at: '#/job/half/cranking', act: async (page) => {
    await page.evaluate(async () =>
      window.core.tell({ event: 'microphone', microphone: { state: 'failed', mode: null, source: 'microphone', problem: { what: 'The microphone may not be used: the system denies it.', allowed: null, hint: 'Allow it in the settings of the phone, or put readings in by thumb.', field: null } } }),
    );
    await page.getByTestId('microphone-trouble').waitFor();
  } },
  { name: 'turn', always: true, at: '#/job/half/leak-down', act: async (page) => {
    await tap('cautions-turning-seen', 'at-top', 'cautions-air-5-seen', 'must-see-0', 'must-see-1', 'must-see-2', 'air-on')(page);
    await say({ kind: 'leak-down', cylinder: 5, value: 62, unit: 'percent' })(page);
    await tap('plate', 'air-off')(page);
    await page.getByTestId('turn-dial').waitFor();
  } },
  { name: 'must-see', at: '#/job/half/leak-down', act: tap('cautions-turning-seen', 'at-top', 'cautions-air-5-seen', 'must-see-0') },
  { name: 'air', always: true, at: '#/job/half/leak-down', act: async (page) => {
    await say({ kind: 'leak-down', cylinder: 5, value: 62, unit: 'percent' })(page);
    await tap('plate')(page);
  } },
  { name: 'findings', always: true, at: '#/job/six/findings' },
  { name: 'why', at: '#/job/six/findings', act: tap('why-open') },
  { name: 'handover', always: true, at: '#/job/six/handover', act: async (page) => {
    await tap('make', 'save')(page);
    await page.getByTestId('saved-path').waitFor();
  } },
  { name: 'problem', at: '#/job/six/findings', act: async (page) => {
    await page.evaluate(async () =>
      window.core.tell({ event: 'failed', problem: { what: 'The job file could not be written: the disk is full. Given 1.2 MB, free are 0 MB.', allowed: null, hint: 'Make room on the phone. Everything confirmed so far is safe in the file.', field: null } }),
    );
    await page.getByTestId('problem').waitFor();
  } },
  { name: 'sixteen', at: '#/job/sixteen/cranking', act: tap('cautions-cranking-seen') },
  { name: 'one', at: '#/job/one/leak-down', act: tap('cautions-turning-seen') },
  { name: 'empty', at: '#/job/empty/findings' },
];

export { tap };

import { describe, expect, test } from 'vitest';
import { Drafts, type DraftStore } from './drafts';
import { draftOf, formOf, freshForm, isJobForm } from './intake.svelte';
import { isString } from './kept.svelte';
import { hashOf, routeOf, type Route } from './route.svelte';
import { earOf, share } from './listening.svelte';
import { settings } from './settings.svelte';

function store(kept = new Map<string, string>()): DraftStore {
  return {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  };
}

describe('drafts', () => {
  test('what was kept is there for another window', () => {
    const device = store();
    new Drafts(device).keep('a', '15');
    expect(new Drafts(device).read('a', isString)).toBe('15');
  });

  test('what is dropped is gone', () => {
    const drafts = new Drafts(store());
    drafts.keep('a', 'x');
    drafts.drop('a');
    expect(drafts.read('a', isString)).toBeNull();
  });

  test('what another version wrote in another shape is no draft', () => {
    const drafts = new Drafts(store());
    drafts.keep('a', { old: true });
    expect(drafts.read('a', isString)).toBeNull();
  });

  test('what was cut off in writing is no draft', () => {
    const device = store(new Map([['borespoke.draft.a', '"half']]));
    expect(new Drafts(device).read('a', isString)).toBeNull();
  });

  test('a full device is told of, not thrown', () => {
    const full: DraftStore = {
      ...store(),
      setItem: () => {
        throw new Error('full');
      },
    };
    expect(new Drafts(full).keep('a', 'x')).toBe(false);
  });
});

describe('the intake form', () => {
  test('comes back whole from the device', () => {
    const form = freshForm(settings.now);
    expect(isJobForm(JSON.parse(JSON.stringify(form)))).toBe(true);
    expect(isJobForm({ draft: {} })).toBe(false);
  });

  test('half a firing order is kept as typed and is no description yet', () => {
    const form = { ...freshForm(settings.now), order: '1-3-' };
    expect(draftOf(form)).toBeNull();
    expect(draftOf({ ...form, order: '1-3-4-2' })?.engine.firing_order).toEqual([1, 3, 4, 2]);
  });

  test('a description and its form are one', () => {
    const draft = draftOf({ ...freshForm(settings.now), banks: '1-2 / 3-4' });
    expect(draft && draftOf(formOf(draft))).toEqual(draft);
  });
});

test.each<Route>([
  { at: 'jobs' },
  { at: 'settings' },
  { at: 'new' },
  { at: 'job', id: 'a/b c', screen: 'leak-down' },
])('the address of %j leads back to it', (route) => {
  expect(routeOf(hashOf(route))).toEqual(route);
});

test('an address that leads nowhere leads to the jobs', () => {
  expect(routeOf('#/nowhere/x')).toEqual({ at: 'jobs' });
  expect(routeOf('#/job/x/nowhere')).toEqual({ at: 'job', id: 'x', screen: 'intake' });
});

describe('the ear', () => {
  const ready = { state: 'ready', problem: null } as const;
  const as = (state: 'off' | 'opening' | 'listening' | 'muted' | 'failed') =>
    ({ state, mode: null, problem: null, source: 'microphone' }) as const;

  test.each([
    ['off', 'quiet', 'off'],
    ['failed', 'speech', 'failed'],
    ['muted', 'speech', 'speaking'],
    ['opening', 'quiet', 'opening'],
    ['listening', 'quiet', 'listening'],
    ['listening', 'speech', 'speech'],
    ['listening', 'working', 'working'],
  ] as const)('%s and %s is %s', (state, phase, ear) => {
    expect(earOf(as(state), ready, phase)).toBe(ear);
  });

  test('while the weights are loaded it says so', () => {
    expect(earOf(as('opening'), { state: 'loading', problem: null }, 'quiet')).toBe('weights');
  });

  test('the scale runs from -60 decibels to full scale', () => {
    expect([-90, -60, -30, 0, 3].map(share)).toEqual([0, 0, 0.5, 1, 1]);
  });
});

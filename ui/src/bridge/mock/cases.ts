import type { EntryDraft, EntryView, JobDraft } from '../types';

/** Invented jobs, the first after the case in `demo-data`. No real person, engine or maker. */

export interface Case {
  id: string;
  begun: string;
  draft: JobDraft;
  entries: EntryView[];
  pictured: number[];
}

function draft(order: number[], part: Partial<JobDraft> = {}): JobDraft {
  return {
    customer: 'A. Buyer (invented)',
    vehicle: 'Six-cylinder estate car, 148,000 km on the clock (invented, no real make)',
    question:
      'Is the engine healthy enough to rely on for another 50,000 km? It misses at idle.',
    engine: {
      firing_order: order,
      banks: null,
      fuel: 'petrol',
      bore_mm: 84,
      stroke_mm: 86,
      rod_length_mm: 143,
      compression_ratio: 9.5,
      intake_closes_degrees: 60,
    },
    testers: [
      { name: 'cranking gauge', measures: 'cranking-gauge', zero: { state: 'good' }, resolution: { value: 2, unit: 'psi' }, restrictor_mm: null, supply: null },
      { name: 'leak-down set', measures: 'leak-down-set', zero: { state: 'not-done' }, resolution: null, restrictor_mm: 1.016, supply: { value: 80, unit: 'psi' } },
    ],
    conditions: {
      warmth: 'hot',
      throttle_open: true,
      all_plugs_out: true,
      made_safe: true,
      battery_charged: null,
      altitude_m: 240,
      barometer_hpa: 986,
      notes: ['Five compression strokes on every cylinder'],
    },
    rule_set: 'lowest-75-of-highest',
    makers_figures: { from: '', lowest: null, highest: null, spread: null, lowest_of_highest_percent: null, leak_percent: null, master_orifice: null },
    invented: true,
    ...part,
  };
}

export function entryOf(id: string, entry: EntryDraft, by: EntryView['by'] = 'voice'): EntryView {
  return {
    id,
    at: '2026-11-20T09:2' + (id.length % 10) + ':00Z',
    words: wordsOf(entry),
    entry,
    target: null,
    takes_back: false,
    in_force: true,
    by,
    clip: by === 'voice',
    picture: null,
    sureness: by === 'voice' ? 0.97 : null,
    heard: by === 'voice' ? wordsOf(entry) : null,
    unsettled: false,
  };
}

export function wordsOf(entry: EntryDraft): string {
  if (entry.kind === 'remark') return `remark: ${entry.text ?? ''}`;
  const what =
    entry.at !== undefined
      ? `air at the ${entry.at}`
      : entry.signs !== undefined
        ? `plug ${entry.signs.join(', ')}`
        : `${entry.value ?? ''} ${entry.unit ?? ''}${entry.wet ? ', wet' : ''}`;
  return `cylinder ${entry.cylinder ?? '?'}, ${what}`;
}

function said(list: EntryDraft[]): EntryView[] {
  return list.map((entry, place) => entryOf(`e${place + 1}`, entry)).reverse();
}

const dry = (cylinder: number, value: number, about = false): EntryDraft => ({
  kind: 'cranking', cylinder, value, unit: 'psi', wet: false, ...(about ? { about } : {}),
});
const wet = (cylinder: number, value: number): EntryDraft => ({ kind: 'cranking', cylinder, value, unit: 'psi', wet: true });
const leak = (cylinder: number, value: number): EntryDraft => ({ kind: 'leak-down', cylinder, value, unit: 'percent' });
const look = (cylinder: number, sign: string): EntryDraft => ({ kind: 'look', cylinder, signs: [sign] });

const SIX = [1, 5, 3, 6, 2, 4];

export const CASES: readonly Case[] = [
  {
    id: 'six',
    begun: '2026-11-20T09:05:00Z',
    draft: draft(SIX),
    pictured: [1, 2, 3, 4, 5, 6],
    entries: said([
      look(1, 'normal'), look(2, 'normal'), look(3, 'oil-wet'), look(4, 'normal'), look(5, 'dry-carbon'), look(6, 'normal'),
      dry(1, 152), dry(2, 150), dry(3, 105), dry(4, 155, true), dry(5, 60), dry(6, 152), wet(3, 140), wet(5, 65),
      leak(1, 8), leak(5, 62), { kind: 'listening', cylinder: 5, at: 'exhaust' },
      { ...leak(3, 27.5), from: 27, to: 28 }, { kind: 'listening', cylinder: 3, at: 'oil filler' }, leak(6, 7), leak(2, 12), leak(4, 6),
      { kind: 'remark', text: 'Fresh sealer around the rocker cover.' },
    ]),
  },
  {
    id: 'half',
    begun: '2026-11-23T14:40:00Z',
    draft: draft(SIX, { customer: 'B. Buyer (invented)', vehicle: 'Six-cylinder van (invented)' }),
    pictured: [1, 3],
    entries: said([look(1, 'normal'), look(5, 'dry-carbon'), look(3, 'oil-wet'), dry(1, 152), dry(5, 60), leak(1, 8)]),
  },
  {
    id: 'empty',
    begun: '2026-11-24T08:00:00Z',
    draft: draft([1, 3, 4, 2], { customer: '', vehicle: '', question: '', testers: [], invented: false }),
    pictured: [],
    entries: [],
  },
  {
    id: 'one',
    begun: '2026-11-24T09:00:00Z',
    draft: draft([1], { vehicle: 'Single-cylinder water pump (invented)' }),
    pictured: [],
    entries: said([dry(1, 118)]),
  },
  {
    id: 'sixteen',
    begun: '2026-11-24T10:00:00Z',
    draft: draft([1, 12, 8, 11, 7, 14, 5, 16, 4, 15, 3, 10, 6, 9, 2, 13], {
      customer: 'Harbour works of a town with a very long name, tug boat department (invented)',
      vehicle:
        'Sixteen-cylinder marine auxiliary generator set with the long type plate number 0123456789-ABCDEFGHIJ (invented)',
    }),
    pictured: [],
    entries: said([1, 12, 8, 11, 7, 14, 5, 16, 4].map((n) => dry(n, n === 14 ? 98 : 150 + (n % 5)))),
  },
];

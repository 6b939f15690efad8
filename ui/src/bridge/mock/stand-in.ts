import { emit } from '@tauri-apps/api/event';
import { mockIPC } from '@tauri-apps/api/mocks';
import type {
  Commands,
  EntryDraft,
  EntryView,
  HeardNow,
  JobDraft,
  JobView,
  LiveEvent,
  Microphone,
  Problem,
  Screen,
  Settings,
} from '../types';
import { CASES, entryOf, wordsOf, type Case } from './cases';
import { guidanceOf, RULE_SETS } from './guide';
import { judgementOf } from './judging';
import { page, pictureView, plugPicture, silentWav } from './media';
import { cylindersOf, roundOf } from './trade';

/** Stands in for the core in a browser: the invented jobs, in memory. For tests of the screens and
 * for `npm run dev`. */
export class StandIn {
  settings: Settings = {
    pressure_unit: 'psi', rule_set: 'lowest-75-of-highest', testers: [], altitude_m: null, speaks: false, tones: false,
    hands_free: true, text_size: 'normal', hand: 'right', theme: 'bonnet', language: 'en', letter_paper: false,
  };
  microphone: Microphone = { state: 'off', mode: null, problem: null, source: 'microphone' };
  /** What `listen_start` gives; a test puts a failure here. */
  opens: Microphone = { state: 'listening', mode: 'hands-free', problem: null, source: 'microphone' };
  /** Commands that are to be refused, and with what. */
  refusals: Partial<Record<keyof Commands, Problem>> = {};
  /** Every command that was called, oldest first. */
  called: { name: string; takes: unknown }[] = [];
  cases: Case[] = structuredClone([...CASES]);
  now: JobView | null = null;

  readonly #answers: { [Name in keyof Commands]: (takes: Commands[Name]['takes']) => Commands[Name]['gives'] | Promise<Commands[Name]['gives']> } = {
    jobs_list: ({ search }) =>
      this.cases
        .filter((one) => `${one.draft.vehicle} ${one.draft.customer}`.toLowerCase().includes(search.toLowerCase()))
        .map((one) => ({ id: one.id, begun: one.begun, customer: one.draft.customer, vehicle: one.draft.vehicle, invented: one.draft.invented, entries: one.entries.length }))
        .reverse(),
    job_begin: ({ draft }) => this.#begin(draft),
    job_open: ({ id }) => this.#open(id),
    job_now: () => this.now,
    job_revise: ({ draft }) => {
      if (!this.now) throw this.#no('no job is open');
      return this.#view({ ...this.now, draft, revision: this.now.revision + 1 });
    },
    job_close: () => null,
    judgement: () => this.now && judgementOf(this.now.id, this.now.revision, this.now.entries),
    expect_set: ({ screen, cylinder }) => this.#expect(screen, cylinder),
    entry_type: ({ entry }) => this.#add(entry),
    entry_correct: ({ entry }) => this.#add(entry),
    entry_withdraw: ({ id }) => this.#withdraw(id),
    question_answer: ({ answer }) => {
      const offer = this.now?.question?.offered[answer === 'second' ? 1 : 0]?.entry;
      if (this.now) this.now = { ...this.now, question: null };
      if (answer === 'neither' || !offer) return this.#heard([], { outcome: 'question-closed', cue: 'refused' });
      return this.#add(offer);
    },
    listen_start: () => (this.microphone = this.opens),
    listen_stop: () => (this.microphone = { ...this.microphone, state: 'off', mode: null, problem: null }),
    microphone_state: () => this.microphone,
    speaking: () => null,
    speech_of: () => silentWav(),
    clip_of: () => silentWav(),
    picture_add: ({ target }) => {
      const pictures = target.of === 'plug' ? [target.cylinder] : (this.now?.draft.engine.firing_order ?? []);
      for (const one of pictures) this.#pictured.add(one);
      return this.#refresh().plugs;
    },
    picture_circle: () => this.#refresh().plugs,
    picture_of: ({ picture }) => plugPicture(picture),
    picture_strip: () => plugPicture('plug-1'),
    handover_make: () => ({ name: 'borespoke-2026-11-20-six-cylinder-estate-car.pdf', pages: 3, bytes: 412_330, sha256: '5f1d0c'.padEnd(64, '9ab3e7'), entries: this.now?.entries.length ?? 0 }),
    handover_page: ({ page: number }) => page(number),
    handover_save: () => ({ path: 'Documents/Borespoke/borespoke-2026-11-20-six-cylinder-estate-car.pdf' }),
    settings_get: () => this.settings,
    settings_set: ({ settings }) => (this.settings = settings),
    rule_sets: () => RULE_SETS,
    guidance: ({ screen }) => guidanceOf(screen),
    weights_state: () => ({ state: 'ready', problem: null }),
  };
  #pictured = new Set<number>();

  start(): void {
    mockIPC(
      async (name, takes) => {
        this.called.push({ name, takes });
        const answer = this.#answers[name as keyof Commands] as ((takes: unknown) => unknown) | undefined;
        const refusal = this.refusals[name as keyof Commands];
        if (refusal) throw refusal;
        if (!answer) throw this.#no(`no command ${name}`);
        // What crosses the bridge is a copy.
        const given = await answer(takes);
        return given instanceof ArrayBuffer ? given : (structuredClone(given) as unknown);
      },
      { shouldMockEvents: true },
    );
  }

  /** Tells the window what the core would. */
  async tell(event: LiveEvent): Promise<void> {
    if (event.event === 'heard' && this.now) this.now = { ...this.now, question: event.now.question };
    await emit('live', event);
  }

  /** Says a reading: it goes into the log, and the window is told. */
  async say(entry: EntryDraft): Promise<void> {
    await this.tell({ event: 'heard', now: this.#add(entry, 'voice') });
  }

  /** Asks back between readings. */
  async ask(offered: EntryDraft[]): Promise<void> {
    const question = {
      words: `${offered.map(wordsOf).join(' or ')}?`,
      offered: offered.map((entry) => ({ words: wordsOf(entry), entry })),
      entry: this.now?.entries[0]?.id ?? null,
    };
    await this.tell({ event: 'heard', now: this.#heard([], { outcome: 'ask', cue: 'asking', question }) });
  }

  #no(what: string): Problem {
    return { what, allowed: null, hint: '', field: null };
  }

  #open(id: string): JobView {
    const found = this.cases.find((one) => one.id === id);
    if (!found) throw this.#no(`job: given "${id}", there is no such job`);
    this.#pictured = new Set(found.pictured);
    return this.#view({ id, revision: 1, begun: found.begun, draft: found.draft, entries: found.entries });
  }

  #begin(draft: JobDraft): JobView {
    const fresh: Case = { id: `new-${this.cases.length}`, begun: '2026-11-25T12:00:00Z', draft, entries: [], pictured: [] };
    this.cases.push(fresh);
    return this.#open(fresh.id);
  }

  #view(of: Pick<JobView, 'id' | 'revision' | 'begun' | 'draft' | 'entries'> & Partial<JobView>): JobView {
    const order = of.draft.engine.firing_order;
    const { cylinders, lines } = cylindersOf(order, of.entries, this.#pictured);
    const dry = cylinders.flatMap((one) => (one.dry ? [one.dry.value] : []));
    const pictures = [...this.#pictured].sort((a, b) => a - b).map(pictureView);
    this.now = {
      ...of,
      cylinders,
      summary: {
        rule_set: RULE_SETS.find((set) => set.id === of.draft.rule_set)?.name ?? of.draft.rule_set,
        unit: dry.length > 0 ? 'psi' : null,
        highest: dry.length > 0 ? Math.max(...dry) : null,
        lowest: dry.length > 0 ? Math.min(...dry) : null,
        lowest_of_highest: dry.length > 0 ? Math.min(...dry) / Math.max(...dry) : null,
        most_leak_percent: null,
        lines,
        put_aside: [],
      },
      plugs: {
        pictures,
        comparable: pictures.length > 2,
        why_not: pictures.length > 2 ? null : 'Picture 2 was taken in other light than the rest: no neutral reference was found in it.',
        pairs: pictures.flatMap((one, at) => pictures.slice(at + 1).map((other) => ({ one: one.cylinder, other: other.cylinder, ciede2000: Math.abs(one.lightness - other.lightness) + 2.1, error: 1.4 }))),
        pattern: pictures.length > 2 ? 'some-odd' : null,
      },
      round: roundOf(order),
      hand: of.hand ?? { screen: 'intake', cylinder: order[0] ?? null, wet: false, unit: this.settings.pressure_unit },
      question: of.question ?? null,
    };
    return this.now;
  }

  #refresh(): JobView {
    if (!this.now) throw this.#no('no job is open');
    return this.#view(this.now);
  }

  #expect(screen: Screen, cylinder: number | null): JobView['hand'] {
    const job = this.#refresh();
    const open = job.cylinders.find((one) =>
      screen === 'plugs' ? one.signs.length === 0 : screen === 'leak-down' ? !one.leak : !one.dry,
    );
    const wet = job.cylinders.every((one) => one.dry !== null);
    const hand = { ...job.hand, screen, cylinder: cylinder ?? open?.number ?? job.draft.engine.firing_order[0] ?? null, wet };
    this.now = { ...job, hand };
    return hand;
  }

  #add(entry: EntryDraft, by: EntryView['by'] = 'thumb'): HeardNow {
    const job = this.#refresh();
    if (entry.kind === 'cranking' && (entry.value ?? 0) > 2000) {
      throw { what: `cranking pressure: given ${entry.value} psi`, allowed: '0 to 1200 psi', hint: 'Say or type it again.', field: 'value' } satisfies Problem;
    }
    const line = entryOf(`t${job.entries.length + 1}`, entry, by);
    this.#view({ ...job, entries: [line, ...job.entries] });
    const heard = this.#heard([line], {});
    if (this.now) void this.tell({ event: 'job', job: this.now });
    if (this.now) void this.tell({ event: 'judged', judgement: judgementOf(this.now.id, this.now.revision, this.now.entries) });
    return heard;
  }

  #withdraw(id: string): HeardNow {
    const job = this.#refresh();
    const gone = job.entries.map((one) => (one.id === id ? { ...one, in_force: false } : one));
    const back: EntryView = { ...entryOf(`t${job.entries.length + 1}`, { kind: 'remark' }, 'thumb'), entry: null, target: id, takes_back: true, words: `taken back: ${job.entries.find((one) => one.id === id)?.words ?? ''}` };
    this.#view({ ...job, entries: [back, ...gone] });
    const heard = this.#heard([back], { cue: 'changed', say: back.words });
    if (this.now) void this.tell({ event: 'job', job: this.now });
    return heard;
  }

  #heard(entries: EntryView[], part: Partial<HeardNow>): HeardNow {
    const job = this.#refresh();
    return {
      outcome: 'accepted',
      cue: 'accepted',
      say: entries.map((one) => one.words).join(', '),
      heard: entries.map((one) => one.heard ?? '').join(' '),
      sureness: 0.97,
      entries,
      cylinders: job.cylinders,
      question: null,
      why: null,
      hand: this.#expect(job.hand.screen, null),
      after_ms: 40,
      ...part,
    };
  }
}

export function standIn(): StandIn {
  const core = new StandIn();
  core.start();
  return core;
}

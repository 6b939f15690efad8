import { call } from '$/bridge/bridge';
import { problemOf } from '$/bridge/bridge';
import type { JobDraft, JobView, Problem, Settings } from '$/bridge/types';
import { banksFrom, banksText, firingOrder, firstOrder } from '$/lib/engines';
import { t } from '$/words/index.svelte';
import { drafts } from './drafts';

/** The intake form: the description of a job, with the parts that are typed as text kept as text,
 * so that half a firing order is not lost. */
export interface JobForm {
  draft: JobDraft;
  cylinders: number;
  order: string;
  /** Banks as typed; empty when not said. */
  banks: string;
}

export const NEW_JOB = 'new-job';

/** A moment after the last key, so that a job is not described anew with every letter. */
const PAUSE_MS = 700;

export function isJobForm(value: unknown): value is JobForm {
  if (typeof value !== 'object' || value === null) return false;
  const { draft, cylinders, order, banks } = value as Record<string, unknown>;
  return (
    typeof draft === 'object' &&
    draft !== null &&
    ['engine', 'testers', 'conditions', 'makers_figures'].every((part) => part in draft) &&
    typeof cylinders === 'number' &&
    typeof order === 'string' &&
    typeof banks === 'string'
  );
}

export function formOf(draft: JobDraft): JobForm {
  return {
    draft,
    cylinders: draft.engine.firing_order.length,
    order: draft.engine.firing_order.join('-'),
    banks: draft.engine.banks ? banksText(draft.engine.banks) : '',
  };
}

/** A new job begins with what the settings say of every job. */
export function freshForm(settings: Settings): JobForm {
  const cylinders = 4;
  return {
    cylinders,
    order: firstOrder(cylinders),
    banks: '',
    draft: {
      customer: '',
      vehicle: '',
      question: '',
      engine: {
        firing_order: firingOrder(firstOrder(cylinders), cylinders) ?? [],
        banks: null,
        fuel: null,
        bore_mm: null,
        stroke_mm: null,
        rod_length_mm: null,
        compression_ratio: null,
        intake_closes_degrees: null,
      },
      testers: settings.testers,
      conditions: {
        warmth: null,
        throttle_open: null,
        all_plugs_out: null,
        made_safe: null,
        battery_charged: null,
        altitude_m: settings.altitude_m,
        barometer_hpa: null,
        notes: [],
      },
      rule_set: settings.rule_set,
      makers_figures: {
        from: '',
        lowest: null,
        highest: null,
        spread: null,
        lowest_of_highest_percent: null,
        leak_percent: null,
        master_orifice: null,
      },
      invented: false,
    },
  };
}

/** The description the form stands for; null when the firing order or the banks are not whole. */
export function draftOf(form: JobForm): JobDraft | null {
  const order = firingOrder(form.order, form.cylinders);
  const banks = form.banks.trim() === '' ? null : banksFrom(form.banks, form.cylinders);
  if (!order || (form.banks.trim() !== '' && banks === null)) return null;
  return { ...form.draft, engine: { ...form.draft.engine, firing_order: order, banks } };
}

export type SaveState = 'saved' | 'saving' | 'kept';

/** The form while it is filled in: kept on the device with every key, described to the core after
 * a pause where there is a job already. */
export class Intake {
  form = $state() as JobForm;
  problem = $state<Problem | null>(null);
  state = $state<SaveState>('saved');
  readonly #name: string;
  readonly #saved: ((view: JobView) => void) | null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #revision = 0;

  constructor(name: string, start: JobForm, saved: ((view: JobView) => void) | null) {
    this.#name = name;
    this.#saved = saved;
    const kept = drafts.read(name, isJobForm);
    this.form = kept ?? start;
    if (kept) this.changed({});
  }

  changed(part: Partial<JobForm>): void {
    this.form = { ...this.form, ...part };
    drafts.keep(this.#name, $state.snapshot(this.form));
    this.#revision += 1;
    this.state = 'kept';
    if (!this.#saved) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.save(), PAUSE_MS);
  }

  change(part: Partial<JobDraft>): void {
    this.changed({ draft: { ...this.form.draft, ...part } });
  }

  changeEngine(part: Partial<JobDraft['engine']>): void {
    this.change({ engine: { ...this.form.draft.engine, ...part } });
  }

  changeConditions(part: Partial<JobDraft['conditions']>): void {
    this.change({ conditions: { ...this.form.draft.conditions, ...part } });
  }

  changeMakers(part: Partial<JobDraft['makers_figures']>): void {
    this.change({ makers_figures: { ...this.form.draft.makers_figures, ...part } });
  }

  setCylinders(cylinders: number): void {
    this.changed({ cylinders, order: firstOrder(cylinders), banks: '' });
  }

  /** What is wrong with a field, when the core refused it. */
  troubleOf(field: string): string | null {
    if (this.problem?.field !== field) return null;
    const { what, allowed, hint } = this.problem;
    return [what, allowed && t().problem.allowed(allowed), hint].filter(Boolean).join(' ');
  }

  /** Describes the job anew, now. Leaving the screen does this too. */
  async save(): Promise<void> {
    clearTimeout(this.#timer);
    if (!this.#saved || this.state === 'saved') return;
    const draft = draftOf(this.form);
    if (!draft) return;
    const revision = this.#revision;
    this.state = 'saving';
    try {
      const view = await call('job_revise', { draft: $state.snapshot(draft) });
      this.problem = null;
      this.#saved(view);
      if (revision !== this.#revision) return;
      this.state = 'saved';
      drafts.drop(this.#name);
    } catch (thrown) {
      this.problem = problemOf(thrown, t().problem.unknown);
      this.state = 'kept';
    }
  }

  /** Makes the job. Null when it was refused; `problem` says why. */
  async begin(): Promise<JobView | null> {
    const draft = draftOf(this.form);
    if (!draft) return null;
    try {
      const view = await call('job_begin', { draft: $state.snapshot(draft) });
      drafts.drop(this.#name);
      return view;
    } catch (thrown) {
      this.problem = problemOf(thrown, t().problem.unknown);
      return null;
    }
  }
}

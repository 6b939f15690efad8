import { call } from '$/bridge/bridge';
import type {
  Answer,
  CylinderView,
  EntryDraft,
  EntryView,
  HeardNow,
  JobView,
  JudgementView,
  QuestionView,
  Screen,
} from '$/bridge/types';
import { problems } from './problems.svelte';
import { settings } from './settings.svelte';
import { voice } from './voice';

/** How long a taken reading stands large on the screen, in milliseconds. Long enough to look up
 * from the gauge; the next reading replaces it at once. */
const PLATE_MS = 5000;

/** The open job, as the core last told it. */
class JobState {
  now = $state<JobView | null>(null);
  judgement = $state<JudgementView | null>(null);
  question = $state<QuestionView | null>(null);
  /** What came of the last utterance or act of the thumb, while it stands large. */
  plate = $state<HeardNow | null>(null);
  /** An answer to a question is on its way. */
  answering = $state(false);
  #plateTimer: ReturnType<typeof setTimeout> | undefined;

  /** Opens a job, if it is not the open one. False when there is no such job. */
  async open(id: string): Promise<boolean> {
    if (this.now?.id === id) return true;
    const job = await problems.attempt(() => call('job_open', { id }));
    if (!job) return false;
    this.take(job);
    this.judgement = await problems.attempt(() => call('judgement', {}));
    return true;
  }

  take(job: JobView): void {
    if (this.now?.id !== job.id) {
      this.judgement = null;
      this.clearPlate();
    }
    this.now = job;
    this.question = job.question;
  }

  /** A judgement may come late: one of another job is not ours. */
  judged(judgement: JudgementView): void {
    if (judgement.job === this.now?.id) this.judgement = judgement;
  }

  /** Whether the judgement is of an earlier state of the log. */
  get weighing(): boolean {
    const job = this.now;
    if (!job) return false;
    const { judgement } = this;
    return (
      judgement === null ||
      judgement.entries < job.entries.length ||
      judgement.revision < job.revision
    );
  }

  /** Shows and sounds what came of something said or put in. */
  heard(now: HeardNow): void {
    this.question = now.question;
    if (this.now) {
      const cylinders = this.now.cylinders.map(
        (one) => now.cylinders.find((fresh) => fresh.number === one.number) ?? one,
      );
      this.now = { ...this.now, hand: now.hand, cylinders };
    }
    clearTimeout(this.#plateTimer);
    this.plate = now.question || now.outcome === 'question-closed' ? null : now;
    this.#plateTimer = setTimeout(() => this.clearPlate(), PLATE_MS);
    if (settings.now.tones) voice.tone(now.cue);
    if (settings.now.speaks && now.say) void problems.attempt(() => voice.say(now.say));
  }

  clearPlate(): void {
    clearTimeout(this.#plateTimer);
    this.plate = null;
  }

  /** What is expected now: belongs to every change of screen and to a tap on a cylinder. */
  async expect(screen: Screen, cylinder: number | null): Promise<void> {
    const hand = await problems.attempt(() => call('expect_set', { screen, cylinder }));
    if (hand && this.now) this.now = { ...this.now, hand };
  }

  /** Puts an entry in by thumb. A refusal is thrown, for the form to show beside its field. */
  async type(entry: EntryDraft): Promise<void> {
    this.heard(await call('entry_type', { entry }));
  }

  async correct(id: string, entry: EntryDraft): Promise<void> {
    this.heard(await call('entry_correct', { id, entry }));
  }

  async takeBack(entry: EntryView): Promise<void> {
    const heard = await problems.attempt(() => call('entry_withdraw', { id: entry.id }));
    if (heard) this.heard(heard);
  }

  async answer(answer: Answer): Promise<void> {
    this.answering = true;
    const heard = await problems.attempt(() => call('question_answer', { answer }));
    this.answering = false;
    if (heard) this.heard(heard);
  }

  cylinder(number: number): CylinderView | undefined {
    return this.now?.cylinders.find((one) => one.number === number);
  }

  entry(id: string): EntryView | undefined {
    return this.now?.entries.find((one) => one.id === id);
  }

  /** The newest entry that stands: what "take back" takes back. */
  get last(): EntryView | undefined {
    return this.now?.entries.find((one) => one.in_force && !one.takes_back);
  }
}

export const job = new JobState();

import type { JobView, JudgementView, Screen } from '$/bridge/types';
import type { Words } from '$/words/en';
import type { MarkShape } from './mark';
import { worst } from './mark';
import { cellsOf } from './strip';

/** How far a screen's work has come, in a shape and words. */
export interface Progress {
  shape: MarkShape;
  says: string;
}

export function progressOf(
  job: JobView,
  judgement: JudgementView | null,
  screen: Screen,
  words: Words,
): Progress {
  if (screen === 'intake') return { shape: 'read', says: words.screens.intakeState };
  if (screen === 'handover') {
    return { shape: job.entries.length > 0 ? 'read' : 'open', says: words.screens.handoverState };
  }
  if (screen === 'findings') {
    const count = judgement?.findings.length ?? 0;
    return { shape: count > 0 ? 'odd' : 'open', says: words.screens.findingsState(count) };
  }
  const shapes = cellsOf(job, screen, words).map((cell) => cell.shape);
  const done = shapes.filter((shape) => shape !== 'open').length;
  const says = screen === 'plugs' ? words.screens.seen : words.screens.read;
  return { shape: done === 0 ? 'open' : worst(shapes), says: says(done, shapes.length) };
}

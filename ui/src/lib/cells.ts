import type { MarkShape } from './mark';

/** What the strip shows of one cylinder: a number, a shape, a figure and a word. */
export interface Cell {
  cylinder: number;
  shape: MarkShape;
  /** The figure in hand, without its unit: the strip names the unit once. */
  figure: string | null;
  /** One short word: good, low, leaks, odd, open. */
  word: string;
  /** How full the cylinder's column stands, 0 to 1; null where nothing was read. */
  level: number | null;
  /** Everything, as a sentence, for who listens to the screen. */
  said: string;
  next: boolean;
}

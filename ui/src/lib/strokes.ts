/** What taps on compression strokes tell. */
export interface Strokes {
  strokes: number;
  /** From the first tap to the last. */
  seconds: number;
  /** Turns of the crank a minute; null before the second tap. */
  turnsPerMinute: number | null;
}

/** A four-stroke cylinder is on its compression stroke once in two turns of the crank. */
const TURNS_PER_STROKE = 2;

export function strokesNow(taps: readonly number[]): Strokes {
  const [first, last] = [taps[0], taps.at(-1)];
  const seconds = first === undefined || last === undefined ? 0 : (last - first) / 1000;
  const gaps = taps.length - 1;
  return {
    strokes: taps.length,
    seconds,
    turnsPerMinute: seconds > 0 ? (gaps * TURNS_PER_STROKE * 60) / seconds : null,
  };
}

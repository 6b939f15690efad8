import type { EntryDraft, HeardNow } from '$/bridge/types';
import type { Words } from '$/words/en';
import { unitOf } from './figure';
import { list, number, statedFigure } from './format';
import { isPressureUnit } from './units';

/** One reading, made ready to be shown huge. */
export interface Huge {
  cylinder: number | null;
  /** The number, or the word where there is none. */
  value: string;
  unit: string;
  /** dry, wet, about, after tapping. */
  beside: string;
}

export function hugeOf(entry: EntryDraft, words: Words): Huge {
  const cylinder = entry.cylinder ?? null;
  const nothing: Huge = { cylinder, value: '', unit: '', beside: '' };
  switch (entry.kind) {
    case 'cranking':
    case 'leak-down':
    case 'tap':
    case 'gap':
      return { cylinder, ...valueOf(entry), beside: besideOf(entry, words) };
    case 'listening':
      return { ...nothing, value: exitName(entry.at ?? '', words), beside: words.findings.air };
    case 'look':
      return { ...nothing, value: list((entry.signs ?? []).map((sign) => signName(sign, words))) };
    default:
      return { ...nothing, value: entry.text ?? '' };
  }
}

function valueOf(entry: EntryDraft): { value: string; unit: string } {
  const unit = entry.unit ?? '';
  const one = (value: number): string =>
    isPressureUnit(unit) ? statedFigure(value, unit) : number(value);
  if (entry.supply !== undefined && entry.value !== undefined) {
    return { value: `${one(entry.value)}/${one(entry.supply)}`, unit: unitOf(unit) };
  }
  if (entry.from !== undefined && entry.to !== undefined && entry.from !== entry.to) {
    return { value: `${one(entry.from)}–${one(entry.to)}`, unit: unitOf(unit) };
  }
  return { value: entry.value === undefined ? '' : one(entry.value), unit: unitOf(unit) };
}

function besideOf(entry: EntryDraft, words: Words): string {
  const parts: string[] = [];
  if (entry.about) parts.push(words.common.about);
  if (entry.kind === 'cranking') {
    parts.push(entry.wet ? words.common.wet : words.common.dry);
    if (entry.stroke !== undefined) parts.push(words.plate.stroke(entry.stroke));
  }
  if (entry.kind === 'leak-down') parts.push(words.plate.leak);
  if (entry.kind === 'tap' || entry.tapped) parts.push(words.plate.tapped);
  if (entry.kind === 'gap') parts.push(words.plate.gap);
  return parts.join(', ');
}

export function exitName(at: string, words: Words): string {
  return words.leak.exit[at] ?? at;
}

/** A sign by its identity, or by its name: entries give the one, cylinders the other. */
export function signName(sign: string, words: Words): string {
  return words.signNames[sign] ?? sign;
}

/** The heading of what came of an utterance or an act. */
export function headingOf(now: HeardNow, words: Words): string {
  const { plate } = words;
  if (now.outcome === 'unheard') return plate.unheard;
  if (now.outcome === 'refused') return plate.refused;
  if (now.outcome === 'remark') return plate.noted;
  if (now.entries.some((entry) => entry.takes_back)) return plate.takenBack;
  if (now.cue === 'changed') return plate.changed;
  return now.cue === 'moved' ? plate.moved : plate.taken;
}

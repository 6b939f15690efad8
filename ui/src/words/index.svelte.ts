import { en, type Words } from './en';

/** The languages there are. Another is a file beside `en.ts` with the same shape, and a line here. */
const LANGUAGES = { en } satisfies Record<string, Words>;

/** The languages by their tags, each named in itself. */
export const LANGUAGE_NAMES: readonly (readonly [Language, string])[] = Object.entries(LANGUAGES).map(
  ([tag, words]) => [tag as Language, words.language] as const,
);

export type Language = keyof typeof LANGUAGES;

let language = $state<Language>('en');

/** The words of the language in use. Call it in the markup, so that a change is followed. */
export function t(): Words {
  return LANGUAGES[language];
}

/** The tag by which numbers, units and dates are written: the user's own where it is of the
 * language in use ("en-GB" for "en"), else the language. */
export function locale(): string {
  const own = typeof navigator === 'undefined' ? [] : navigator.languages;
  return own.find((tag) => tag.split('-')[0] === language) ?? language;
}

/** A language there is no file for leaves English. */
export function useLanguage(tag: string): void {
  language = LANGUAGE_NAMES.find(([known]) => known === tag)?.[0] ?? 'en';
}

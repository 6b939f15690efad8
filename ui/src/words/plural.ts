/** "1 reading", "2 readings": by the plural rules of the language (CLDR, through Intl). */
export function counted(
  language: string,
  count: number,
  forms: Partial<Record<Intl.LDMLPluralRule, string>> & { other: string },
): string {
  const form = forms[new Intl.PluralRules(language).select(count)] ?? forms.other;
  return `${new Intl.NumberFormat(language).format(count)} ${form}`;
}

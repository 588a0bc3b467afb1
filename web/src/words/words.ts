// All text of the app goes through here. A message may name values as `{name}`; one with `one` and `other` is chosen by `count`.
import { en } from './en';

type Message = string | { one: string; other: string };
export type Key = keyof typeof en;
export type Values = Record<string, string | number>;

const language = 'en-US';
const plural = new Intl.PluralRules(language);
const catalogue: Record<Key, Message> = en;

export function t(key: Key, values: Values = {}): string {
  const message = catalogue[key];
  const text = typeof message === 'string' ? message : message[plural.select(Number(values['count'] ?? 0)) === 'one' ? 'one' : 'other'];
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => {
    const value = values[name];
    return value === undefined ? whole : typeof value === 'number' ? number(value) : value;
  });
}

/** The message of this key, or the word itself where the catalogue has none: for words that come from the engine. */
export function word(prefix: string, name: string): string {
  const key = `${prefix}.${name}`;
  return key in catalogue ? t(key as Key) : name.replaceAll('_', ' ');
}

const numbers = new Intl.NumberFormat(language, { maximumFractionDigits: 2 });
// The resistance of a feeder is hundredths of an ohm: below one, three digits that count.
const parts = new Intl.NumberFormat(language, { maximumSignificantDigits: 3 });
const dollars = new Intl.NumberFormat(language, { style: 'currency', currency: 'USD', maximumFractionDigits: 0 });
const cents = new Intl.NumberFormat(language, { style: 'currency', currency: 'USD' });
const days = new Intl.DateTimeFormat(language, { year: 'numeric', month: 'short', day: 'numeric', timeZone: 'UTC' });
const moments = new Intl.DateTimeFormat(language, { month: 'short', day: 'numeric', hour: 'numeric', minute: '2-digit' });

export const number = (value: number) => (Math.abs(value) < 1 ? parts : numbers).format(value);
export const money = (value: number, exact = false) => (exact ? cents : dollars).format(value);
export const day = (iso: string) => days.format(new Date(`${iso}T00:00:00Z`));
export const moment = (ms: number) => moments.format(new Date(ms));

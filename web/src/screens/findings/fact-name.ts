// How a fact is called on a screen: its dictionary name without the prefix and the unit, with the usual shortenings written out.
import { word } from '../../words/words';

const UNITS = new Set(['a', 'va', 'in', 'ft', 'v', 'c', 'ft2', 'sqft']);

export function factName(fact: string): string {
  const parts = fact.replace(/^\w+\./, '').split('_');
  if (parts.length > 1 && UNITS.has(parts.at(-1) ?? '')) parts.pop();
  return parts.map((part) => word('abbr', part)).join(' ');
}

// A fact in the one form the engine gives it: known with who said so, or not known, asked for or left out.
import { type Mistake, Refused } from '../engine/door';

export type Fact<T = unknown> = { known: true; is: T; by: string } | { known: false; asked: boolean };

/** What the engine refused, as mistakes to show; anything else that went wrong in the same form. */
export function asRefusal(why: unknown): Mistake[] {
  if (why instanceof Refused) return why.mistakes;
  return [{ line: 0, column: 0, found: why instanceof Error ? why.message : String(why), expected: '' }];
}

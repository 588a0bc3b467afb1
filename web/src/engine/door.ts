// What goes through the engine's door, as the app uses it.
import type { Answer, Question } from './types';

export type { Answer, Question };

/** A mistake in a job file, or in a question. */
export type Mistake = { line: number; column: number; found: string; expected: string; advice?: string; excerpt?: string };

/** One change of a job file. `to` is a bare value, `{ is, by }`, `'unknown'`, or null, which removes. */
export type Edit =
  | { at: string[]; to: unknown }
  | { at: string[]; rename: string }
  | { at: string[]; copy: string };

/** A question without its job: what a screen asks. */
export type Asked = { command: string; [entry: string]: unknown };

/** The engine refuses: what is wrong, each with its place. */
export class Refused extends Error {
  readonly mistakes: Mistake[];
  constructor(mistakes: Mistake[]) {
    super(mistakes.map((m) => m.found).join('; ') || 'refused');
    this.mistakes = mistakes;
  }
}

/** A newer question with the same key was asked meanwhile. */
export class Superseded extends Error {}

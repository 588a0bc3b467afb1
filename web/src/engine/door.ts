// What goes through the engine's door, as the app uses it.
import type { Answer, AnswerTo, Edit, Mistake as EngineMistake, Question } from './types';

export type { Answer, AnswerTo, Edit, Question };

/** A mistake in a job file or in a question; the server says as well what to do. */
export type Mistake = EngineMistake & { advice?: string };

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

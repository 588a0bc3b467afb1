// What goes through the engine's door, as the app uses it.
import type { Answer, AnswerTo, Edit, EditQuestion, Mistake as EngineMistake, JobQuestion } from './types';

export type { Answer, AnswerTo, Edit };

/** What can be asked, by its name. */
export type Command = keyof AnswerTo;

/** What a command takes besides its name. */
export type Taken<C extends Command> = C extends JobQuestion['command'] ? Omit<JobQuestion, 'command'> : Omit<Extract<EditQuestion, { command: C }>, 'command'>;

/** A question, as the engine takes it. */
export type Question<C extends Command = Command> = { command: C } & Taken<C>;

/** A question without its job: what a screen asks about the open one. */
export type Asked<C extends Command = Command> = { command: C } & Omit<Taken<C>, 'job'>;

/** A mistake in a job file or in a question; the server says as well what to do. */
export type Mistake = EngineMistake & { advice?: string };

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

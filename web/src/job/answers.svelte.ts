// What the engine says about the open job, asked anew whenever its text changes. A component calls `answer` while it is set up.
import { ask } from '../engine/client';
import { type AnswerTo, type Asked, type Command, type Mistake, type Question, Refused, Superseded } from '../engine/door';
import { desk } from './desk.svelte';

let count = 0;

/** The last answer to a question; `A` is what the command answers. */
export class Slot<A> {
  /** The last answer; stays while a newer one is on its way. */
  value: A | null = $state.raw(null);
  /** Why there is no answer: what is wrong with the job. */
  mistakes: Mistake[] | null = $state.raw(null);
  /** The engine could not be loaded. */
  lost: boolean = $state(false);
  busy: boolean = $state(false);
  #last: (() => void) | undefined;
  readonly #own = String((count += 1));

  ask(text: string, asked: Asked): void {
    this.#last = () => this.ask(text, asked);
    const last = this.#last;
    this.busy = true;
    this.lost = false;
    shared(text, asked, text === desk.job?.text ? '' : this.#own).then(
      (answer) => {
        if (last !== this.#last) return;
        this.value = answer as A;
        this.mistakes = null;
        this.busy = false;
      },
      (why: unknown) => {
        if (last !== this.#last || why instanceof Superseded) return;
        this.busy = false;
        if (why instanceof Refused) this.mistakes = why.mistakes;
        else this.lost = true;
      },
    );
  }

  again(): void {
    this.#last?.();
  }
}

/** Two parts of a screen that ask the same of the same text share one answer. */
const latest = new Map<string, { text: string; answer: Promise<unknown> }>();

function shared<C extends Command>(text: string, asked: Asked<C>, own: string): Promise<AnswerTo[C]> {
  // A question about another text than the job's must not be taken for a newer one about the job.
  const key = own + JSON.stringify(asked);
  const had = latest.get(key);
  // The key holds the command, and with it the kind of answer.
  if (had?.text === text) return had.answer as Promise<AnswerTo[C]>;
  const answer = ask({ ...asked, job: text } as unknown as Question<C>, key);
  const entry = { text, answer };
  latest.set(key, entry);
  answer.catch(() => {
    if (latest.get(key) === entry) latest.delete(key);
  });
  if (latest.size > 24) latest.delete(latest.keys().next().value as string);
  return answer;
}

/** Asks `asked` (or nothing, when it is null) of the open job, or of `text` where a screen looks at another one. */
export function answer<C extends Command>(asked: () => Asked<C> | null, text: () => string | null | undefined = () => desk.job?.text): Slot<AnswerTo[C]> {
  const slot = new Slot<AnswerTo[C]>();
  $effect(() => {
    const question = asked();
    const of = text();
    if (question !== null && of !== null && of !== undefined) slot.ask(of, question as Asked);
  });
  return slot;
}

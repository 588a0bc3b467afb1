// Asks the engine: `ask(question)` gives a promise of the answer. What every screen asks after each edit has a worker of its own, with the
// part of the engine that is loaded first; everything else is asked of the whole engine in a second one, so that an edit never waits behind
// a sweep of a wall. Of questions with the same key only the latest is worked out.
import { type Answer, type AnswerTo, type Command, type Question, Refused, Superseded } from './door';
import type { FromWorker, ToWorker } from './worker';

/** Questions that the part loaded first answers. */
const FIRST = new Set<Command>(['check', 'read', 'edit']);

const LONGEST_START = 20_000;

type Waiting = { question: { command: Command }; key: string | undefined; yes: (answer: Answer) => void; no: (why: unknown) => void };

/** Loads and compiles. */
async function load(file: string): Promise<WebAssembly.Module> {
  const response = await fetch(file);
  if (!response.ok) throw new Error(`${file}: ${response.status}`);
  return WebAssembly.compileStreaming(response);
}

class Bench {
  #worker: Worker | undefined;
  #starting: Promise<void> | undefined;
  #queue: Waiting[] = [];
  #now: Waiting | undefined;
  #id = 0;
  #module: WebAssembly.Module | undefined;
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  ask(waiting: Waiting): void {
    if (waiting.key !== undefined) {
      const older = this.#queue.filter((w) => w.key === waiting.key);
      this.#queue = this.#queue.filter((w) => w.key !== waiting.key);
      for (const each of older) each.no(new Superseded());
    }
    this.#queue.push(waiting);
    void this.#next();
  }

  start(): Promise<void> {
    this.#starting ??= this.#open().catch((why: unknown) => {
      this.#starting = undefined;
      throw why;
    });
    return this.#starting;
  }

  async #open(): Promise<void> {
    this.#module ??= await load(this.#file);
    const module = this.#module;
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    await new Promise<void>((yes, no) => {
      // A script that cannot be fetched is not always told as an error.
      setTimeout(() => no(new Error('the engine does not start')), LONGEST_START);
      worker.onmessage = () => yes();
      worker.onerror = (event) => no(new Error(event.message || 'the engine does not start'));
      worker.postMessage({ module } satisfies ToWorker);
    }).catch((why: unknown) => {
      worker.terminate();
      throw why;
    });
    worker.onmessage = (event: MessageEvent<FromWorker>) => this.#take(event.data);
    worker.onerror = (event) => this.#fall(event.message || 'the engine stopped');
    this.#worker = worker;
  }

  async #next(): Promise<void> {
    if (this.#now !== undefined) return;
    const waiting = this.#queue.shift();
    if (waiting === undefined) return;
    this.#now = waiting;
    try {
      await this.start();
    } catch (why) {
      this.#now = undefined;
      waiting.no(why);
      void this.#next();
      return;
    }
    this.#id += 1;
    this.#worker?.postMessage({ id: this.#id, question: JSON.stringify(waiting.question) } satisfies ToWorker);
  }

  #take(message: FromWorker): void {
    const waiting = this.#now;
    if (waiting === undefined || !('id' in message) || message.id !== this.#id) return;
    if ('broken' in message) {
      this.#fall(message.broken);
      return;
    }
    this.#now = undefined;
    lastCall = { command: waiting.question.command, ms: message.ms };
    const answer = JSON.parse(message.answer) as Answer;
    if (answer.command === 'error') waiting.no(new Refused(answer.mistakes));
    else waiting.yes(answer);
    void this.#next();
  }

  /** A trap leaves the engine's memory in an unknown state: take a fresh copy for the next question. */
  #fall(why: string): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#starting = undefined;
    const waiting = this.#now;
    this.#now = undefined;
    waiting?.no(new Error(why));
    void this.#next();
  }
}

/** How long the engine took for the last answer, for the measuring script. */
export let lastCall = { command: '', ms: 0 };

const first = new Bench('/engine-first.wasm');
const whole = new Bench('/engine.wasm');

/** Starts the engine before anybody asks; the whole of it a little later, so that both are there when the line goes. */
export function warm(): void {
  void first
    .start()
    .then(() => new Promise((yes) => setTimeout(yes, 1500)))
    .then(() => whole.start())
    .catch(() => undefined);
}

/** Asks. Rejects with `Refused` (mistakes), `Superseded` (a newer question with this key) or an error (the engine could not be loaded). */
export function ask<C extends Command>(question: Question<C>, key?: string): Promise<AnswerTo[C]> {
  const bench = FIRST.has(question.command) ? first : whole;
  return new Promise((yes, no) => {
    // The engine answers what was asked, or with mistakes, which become a refusal.
    bench.ask({ question, key, yes: yes as (answer: Answer) => void, no });
  });
}

// The desk: the one store of the app. It holds the open job; every change goes through `apply`, which lets the engine edit the job's text.
import { ask } from '../engine/client';
import type { Edit } from '../engine/door';
import { type Card, type Kept, type Saving, editsThatWait, firstStep, saving } from './kept';
import * as api from './api';
import * as local from './local';
import { sync } from './sync.svelte';
import { hear, tell } from './tabs';

class Desk {
  job: Kept | null = $state.raw(null);
  /** The job asked for is being fetched, or cannot be had. */
  state: 'none' | 'opening' | 'open' | 'absent' = $state('none');
  /** How many photos and the like: said aloud by the shell after a change. */
  said = $state('');

  #turn: Promise<unknown> = Promise.resolve();
  #wanted = '';

  constructor() {
    hear((id) => void this.#reread(id));
  }

  get saving(): Saving | null {
    return this.job && saving(this.job, sync.reachable, sync.sending === this.job.id);
  }
  /** What a step back would take away, or null. */
  get canUndo(): string | null {
    return this.job && this.job.step > firstStep(this.job) ? (this.job.steps[this.job.step] ?? '') : null;
  }
  get canRedo(): string | null {
    return this.job && this.job.step + 1 < this.job.steps.length ? (this.job.steps[this.job.step + 1] ?? '') : null;
  }

  /** Opens a job: the copy of this device at once, the server's when it comes. */
  async open(id: string): Promise<void> {
    if (this.#wanted === id && this.state !== 'absent') return;
    this.#wanted = id;
    this.job = null;
    this.state = 'opening';
    const kept = await local.job(id).catch(() => undefined);
    if (this.#wanted !== id) return;
    if (kept) {
      this.job = kept;
      this.state = 'open';
      void sync.pull(id).then(() => sync.push(id));
      return;
    }
    const reply = await api.read(id);
    if (this.#wanted !== id) return;
    if (reply.status !== 200) {
      sync.heard(reply.status);
      this.state = 'absent';
      return;
    }
    sync.heard(reply.status);
    const { text, revision } = reply.body;
    const fresh: Kept = { ...asCard(reply.body), text, seq: 0, base: { revision, text }, waiting: false, pending: [], conflict: null, refused: null, steps: [''], step: 0 };
    await local.put(fresh).catch(() => undefined);
    this.job = fresh;
    this.state = 'open';
  }

  close(): void {
    this.#wanted = '';
    this.job = null;
    this.state = 'none';
  }

  /** Makes a job of this text on this device; it goes to the server when it can. Gives its id. */
  async make(text: string, card: Partial<Card>): Promise<string> {
    const id = newId();
    const kept: Kept = {
      title: '', address: '', customer: '', stage: 'walk_through', next_date: null, price: null, ...card,
      id, updated_at: Date.now(), text, seq: 0, base: null, waiting: true, pending: [], conflict: null, refused: null, steps: [''], step: 0,
    };
    await local.put(kept);
    tell(id);
    void sync.push(id);
    return id;
  }

  /** Lets the engine make these edits, all or none; `what` names the step in the history. Rejects with `Refused` when the result would be no job. */
  apply(edits: Edit[], what: string): Promise<void> {
    return this.#inTurn(async () => {
      const id = this.#id();
      for (;;) {
        const kept = (await local.job(id)) ?? this.#must();
        const text = await edited(kept.text, edits);
        if (text === kept.text) return;
        let taken = false;
        const next = await local.update(id, (now) => {
          if (now.seq !== kept.seq) return null;
          taken = true;
          return stepped(now, text, what, edits);
        });
        if (!taken || !next) {
          if (!next) throw new Error('the job is no longer on this device');
          continue;
        }
        this.#show(next);
        this.said = what;
        return;
      }
    });
  }

  /** Replaces the whole text, for what comes as a text: a paste, a version chosen. */
  replace(text: string, what: string): Promise<void> {
    return this.#inTurn(async () => {
      const next = await local.update(this.#id(), (now) => (now.text === text ? null : stepped(now, text, what, null)));
      if (next) this.#show(next);
    });
  }

  /** What the text would be with these edits; nothing is kept. For looking at what would happen. */
  async tried(edits: Edit[]): Promise<string> {
    return edited(this.#must().text, edits);
  }

  undo = (): Promise<void> => this.#walk(-1);
  redo = (): Promise<void> => this.#walk(1);

  /** Changes what the list shows of the job besides its text. */
  about(card: Partial<Pick<Card, 'address' | 'customer' | 'stage' | 'next_date'>>): Promise<void> {
    return this.#inTurn(async () => {
      const next = await local.update(this.#id(), (now) => ({ ...now, ...card, seq: now.seq + 1, waiting: true, updated_at: Date.now(), refused: null, pending: [...now.pending, { what: '', edits: [] }] }));
      if (next) this.#show(next);
    });
  }

  /** The engine told the title; the list shows it. */
  async titled(title: string): Promise<void> {
    if (!this.job || this.job.title === title) return;
    const next = await local.update(this.job.id, (now) => ({ ...now, title })).catch(() => undefined);
    if (next && this.job?.id === next.id) this.job = next;
  }

  // ---- a conflict: four ways on; the version that is not chosen stays in a history ----

  keepMine = (): Promise<void> =>
    this.#settle(async (kept, theirs) => ({ ...kept, base: { revision: theirs.revision, text: theirs.text }, conflict: null, waiting: true, pending: [{ what: '', edits: null }] }));

  keepTheirs = (what: string): Promise<void> =>
    this.#settle(async (kept, theirs) => ({
      ...stepped(kept, theirs.text, what, null), base: { revision: theirs.revision, text: theirs.text }, conflict: null, waiting: false, pending: [],
    }));

  /** Lays the edits made here over the server's version. Rejects when the engine refuses the result. */
  layOver = (what: string): Promise<void> =>
    this.#settle(async (kept, theirs) => {
      const edits = editsThatWait(kept);
      if (edits === null) throw new Error('a step in the history cannot be repeated');
      const text = await edited(theirs.text, edits);
      return { ...stepped(kept, text, what, edits), base: { revision: theirs.revision, text: theirs.text }, conflict: null, waiting: true, pending: [{ what, edits }] };
    });

  async keepBoth(title: string, what: string): Promise<string> {
    const { text, address, customer, stage, next_date } = this.#must();
    const copy = await edited(text, [{ at: ['title'], to: title }]);
    const id = await this.make(copy, { title, address, customer, stage, next_date });
    await this.keepTheirs(what);
    return id;
  }

  #settle(settled: (kept: Kept, theirs: NonNullable<Kept['conflict']>) => Promise<Kept>): Promise<void> {
    return this.#inTurn(async () => {
      const kept = await local.job(this.#id());
      if (!kept?.conflict) return;
      const next = await settled(kept, kept.conflict);
      const written = await local.update(kept.id, (now) => (now.seq === kept.seq ? { ...next, seq: now.seq + 1 } : null));
      if (written) this.#show(written);
    });
  }

  #walk(by: 1 | -1): Promise<void> {
    return this.#inTurn(async () => {
      const kept = await local.job(this.#id());
      if (!kept) return;
      const to = kept.step + by;
      const step = await local.step(kept.id, to);
      if (!step || to >= kept.steps.length) return;
      const next = await local.update(kept.id, (now) =>
        now.seq !== kept.seq ? null : { ...now, text: step.text, step: to, seq: now.seq + 1, waiting: true, refused: null, updated_at: Date.now(), pending: [...now.pending, { what: '', edits: null }] },
      );
      if (next) this.#show(next);
    });
  }

  #show(kept: Kept): void {
    if (this.#wanted === kept.id) this.job = kept;
    tell(kept.id);
    sync.soon(kept.id);
  }

  async #reread(id: string): Promise<void> {
    if (id !== this.#wanted) return;
    const kept = await local.job(id).catch(() => undefined);
    if (kept && id === this.#wanted && (!this.job || kept.seq >= this.job.seq)) {
      this.job = kept;
      this.state = 'open';
    }
  }

  /** Changes of one tab go one after the other. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const next = this.#turn.then(work, work);
    this.#turn = next.catch(() => undefined);
    return next;
  }

  #id(): string {
    return this.#must().id;
  }
  #must(): Kept {
    if (!this.job) throw new Error('no job is open');
    return this.job;
  }
}

async function edited(text: string, edits: Edit[]): Promise<string> {
  const answer = await ask({ command: 'edit', job: text, edits });
  return answer.job;
}

/** One step more in the history: what could be redone is gone. */
function stepped(now: Kept, text: string, what: string, edits: Edit[] | null): Kept {
  const steps = [...now.steps.slice(0, now.step + 1), what];
  return { ...now, text, steps, step: now.step + 1, seq: now.seq + 1, waiting: true, refused: null, updated_at: Date.now(), pending: [...now.pending, { what, edits }] };
}

function asCard(job: Card): Card {
  const { id, title, address, customer, stage, next_date, price, updated_at } = job;
  return { id, title, address, customer, stage, next_date, price, updated_at };
}

/** A random UUID also where the browser gives none (plain http in a shop's network). */
function newId(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, '0')).join('');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

export const desk = new Desk();

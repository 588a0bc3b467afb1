// Carries what waits on this device to the server, and fetches what changed there. A save names the revision it is based on, so the server
// refuses one that another change came before; both versions are then kept until somebody chooses. See docs/app.md.
import * as api from './api';
import { type Kept, type Version, met, saved } from './kept';
import * as local from './local';
import { carry } from './photos';
import { priceOf } from './price-of';
import { alone, tell } from './tabs';

const PAUSE = 600;
const LONGEST_WAIT = 30_000;
const LONGEST_PRICE = 4000;

class Sync {
  /** The last request was answered. */
  reachable = $state(true);
  /** The job that is being sent. */
  sending: string | null = $state(null);
  /** The photo that is being sent. */
  sendingPhoto: { job: string; name: string } | null = $state.raw(null);

  #timers = new Map<string, ReturnType<typeof setTimeout>>();
  #retry: ReturnType<typeof setTimeout> | undefined;
  #wait = 1000;

  /** Starts: sends what waited, and again whenever the line comes back. */
  start(): void {
    addEventListener('online', () => void this.all());
    addEventListener('offline', () => this.heard(0));
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void this.all();
    });
    void this.all();
  }

  /** After a short pause, so that quick edits go together. */
  soon(id: string): void {
    clearTimeout(this.#timers.get(id));
    this.#timers.set(id, setTimeout(() => void this.push(id), PAUSE));
  }

  async all(): Promise<void> {
    const kept = await local.jobs().catch(() => []);
    for (const each of kept) if (each.waiting && !each.conflict) await this.push(each.id);
    for (const id of await local.jobsWithPhotosWaiting().catch(() => [])) await this.photos(id);
  }

  /** Sends the photos of a job that wait, and with `look` hears which ones the server has. Only one tab at a time does. */
  photos(id: string, look = false): Promise<void> {
    return alone(`lugwright-photos-${id}`, async () => {
      if (!navigator.onLine) return this.heard(0);
      const status = await carry(id, look, (name) => (this.sendingPhoto = name === null ? null : { job: id, name }));
      if (status === null) return;
      this.heard(status);
      if (status >= 500) this.#later();
    });
  }

  heard(status: number): void {
    this.reachable = status !== 0 && status < 502;
    if (this.reachable) this.#wait = 1000;
    else this.#later();
  }

  #later(): void {
    if (this.#retry !== undefined) return;
    this.#retry = setTimeout(() => {
      this.#retry = undefined;
      this.#wait = Math.min(this.#wait * 2, LONGEST_WAIT);
      void this.#look();
    }, this.#wait);
  }

  /** Is the server there again? */
  async #look(): Promise<void> {
    const reply = await api.list('');
    this.heard(reply.status);
    if (this.reachable) await this.all();
  }

  /** Sends one job if it waits. Only one tab at a time sends it. */
  push(id: string): Promise<void> {
    clearTimeout(this.#timers.get(id));
    return alone(`lugwright-send-${id}`, async () => {
      const kept = await local.job(id).catch(() => undefined);
      if (!kept?.waiting || kept.conflict || kept.refused !== null) return;
      if (!navigator.onLine) return this.heard(0);
      this.sending = id;
      try {
        await this.#send(kept);
      } finally {
        this.sending = null;
      }
      // A photo waits for its job; the job is there now.
      if (!kept.base) void this.photos(id);
    });
  }

  async #send(kept: Kept): Promise<void> {
    // The price is for the list; a save does not wait long for it.
    const price = await Promise.race([priceOf(kept.text), new Promise<null>((yes) => setTimeout(() => yes(null), LONGEST_PRICE))]);
    const note = [...new Set(kept.pending.map((p) => p.what).filter((what) => what !== ''))].join('; ').slice(0, 300);
    const body: api.Save = {
      text: kept.text, stage: kept.stage, address: kept.address, customer: kept.customer, next_date: kept.next_date,
      ...(price ? { price } : {}), ...(note ? { note } : {}),
    };
    const reply = kept.base ? await api.save(kept.id, kept.base.revision, body) : await api.make({ ...body, id: kept.id });
    this.heard(reply.status);
    if (!('body' in reply) || reply.status >= 500) return this.#later();
    const said = reply.body;
    const sent = { text: kept.text, seq: kept.seq, pending: kept.pending.length };
    if (reply.status === 200 || reply.status === 201) {
      await this.#write(kept.id, (now) => ({ ...saved(now, sent, said.revision), price }));
      const now = await local.job(kept.id);
      if (now?.waiting) this.soon(kept.id);
    } else if (reply.status === 412) {
      await this.#met(kept, sent, { revision: said.theirs.revision, text: said.theirs.text }, said.theirs.by ?? '', said.theirs.at ?? 0);
    } else if (reply.status === 409) {
      const there = await api.read(kept.id);
      if (there.status === 200) await this.#met(kept, sent, { revision: there.body.revision, text: there.body.text }, '', there.body.updated_at);
    } else if (reply.status === 404 && kept.base) {
      // The server has never heard of it (another data folder): bring it the whole job.
      await this.#write(kept.id, (now) => ({ ...now, base: null }));
      this.soon(kept.id);
    } else {
      await this.#write(kept.id, (now) => ({ ...now, refused: [said.error, said.advice].filter(Boolean).join(' ') }));
    }
  }

  /** The server is further than the save was based on. When its text is what was sent, the answer to an earlier sending was lost on the way. */
  #met(kept: Kept, sent: { text: string; seq: number; pending: number }, theirs: Version, by: string, at: number): Promise<void> {
    return this.#write(kept.id, (now) => (theirs.text === sent.text ? saved(now, sent, theirs.revision) : met(now, { ...theirs, by, at })));
  }

  /** Looks whether the job changed on the server. */
  async pull(id: string): Promise<void> {
    const reply = await api.read(id);
    this.heard(reply.status);
    if (reply.status !== 200) return;
    const { text, revision, updated_at, address, customer, stage, next_date, price } = reply.body;
    await alone(`lugwright-send-${id}`, () =>
      this.#write(id, (now) => {
        if (now.base && now.base.revision >= revision) return null;
        const next = met(now, { revision, text, by: '', at: updated_at });
        if (next.waiting || next.conflict) return next;
        const card = { address, customer, stage, next_date, price, updated_at };
        if (next.text === text) return { ...next, ...card };
        const steps = [...next.steps.slice(0, next.step + 1), ''];
        return { ...next, ...card, text, steps, step: next.step + 1, seq: next.seq + 1 };
      }),
    );
  }

  async #write(id: string, changed: (now: Kept) => Kept | null): Promise<void> {
    await local.update(id, changed);
    tell(id);
  }
}

export const sync = new Sync();

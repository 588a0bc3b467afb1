// The list of jobs: the server's, page by page, with what this device knows better laid over it.
import * as api from '../../job/api';
import type { Card, Kept, Saving } from '../../job/kept';
import { saving } from '../../job/kept';
import * as local from '../../job/local';
import { sync } from '../../job/sync.svelte';

export type Row = Card & { saving: Saving | null };

/** Jobs that wait here come first; then the server's order. Words are looked for in the same places as the server does. */
export function merged(there: Card[], here: Kept[], search: string, reachable: boolean): Row[] {
  const words = search.toLowerCase().split(/\s+/).filter((word) => word !== '');
  const fits = (card: Card) => words.every((word) => `${card.title} ${card.address} ${card.customer}`.toLowerCase().includes(word));
  const waiting = here.filter((kept) => (kept.waiting || kept.conflict !== null) && fits(kept)).sort((a, b) => b.updated_at - a.updated_at);
  const ids = new Set(waiting.map((kept) => kept.id));
  const rest = there.filter((card) => !ids.has(card.id) && fits(card));
  return [...waiting.map((kept) => ({ ...kept, saving: saving(kept, reachable, false) })), ...rest.map((card) => ({ ...card, saving: null }))];
}

export class Listing {
  rows: Row[] = $state.raw([]);
  state: 'loading' | 'server' | 'device' = $state('loading');
  next: string | null = $state(null);
  #turn = 0;
  #there: Card[] = [];

  async find(search: string): Promise<void> {
    this.#turn += 1;
    const mine = this.#turn;
    if (this.state === 'loading') {
      // What is here is shown at once; the server's list replaces it when it comes.
      const [cards, here] = await this.#device();
      if (mine === this.#turn && cards.length + here.length > 0) this.rows = merged(cards, here, search, sync.reachable);
    }
    const reply = await api.list(search);
    if (mine !== this.#turn) return;
    sync.heard(reply.status);
    const [cards, here] = await this.#device();
    if (mine !== this.#turn) return;
    if (reply.status === 200) {
      this.#there = reply.body.jobs;
      this.next = reply.body.next;
      this.state = 'server';
      if (search === '') await local.putList(this.#there).catch(() => undefined);
    } else {
      // Jobs opened here that the last list did not hold are here all the same.
      const ids = new Set(cards.map((card) => card.id));
      this.#there = [...cards, ...here.filter((kept) => !ids.has(kept.id))];
      this.next = null;
      this.state = 'device';
    }
    this.rows = merged(this.#there, here, search, sync.reachable);
  }

  async more(search: string): Promise<void> {
    if (this.next === null) return;
    const reply = await api.list(search, this.next);
    sync.heard(reply.status);
    if (reply.status !== 200) return;
    this.#there = [...this.#there, ...reply.body.jobs];
    this.next = reply.body.next;
    this.rows = merged(this.#there, (await this.#device())[1], search, sync.reachable);
  }

  #device(): Promise<[Card[], Kept[]]> {
    return Promise.all([local.list().catch(() => []), local.jobs().catch(() => [])]);
  }
}

// Work of several questions in a row, one made of the answer to the other: a what-if, a layout under the finger.
// The last answer stays while the next is worked out; only the latest work counts.
import { type Mistake, Refused, Superseded } from '../../engine/door';

export class Asked<A> {
  value: A | null = $state.raw(null);
  mistakes: Mistake[] | null = $state.raw(null);
  lost = $state(false);
  busy = $state(false);
  #last: (() => Promise<A>) | null = null;
  #turn = 0;

  async run(work: () => Promise<A>): Promise<void> {
    this.#last = work;
    this.#turn += 1;
    const turn = this.#turn;
    this.busy = true;
    try {
      const value = await work();
      if (turn !== this.#turn) return;
      this.value = value;
      this.mistakes = null;
      this.lost = false;
    } catch (why) {
      if (turn !== this.#turn || why instanceof Superseded) return;
      if (why instanceof Refused) this.mistakes = why.mistakes;
      else this.lost = true;
      if (why instanceof Refused) this.value = null;
    } finally {
      if (turn === this.#turn) this.busy = false;
    }
  }

  clear(): void {
    this.#turn += 1;
    this.#last = null;
    this.value = null;
    this.mistakes = null;
    this.lost = false;
    this.busy = false;
  }

  again(): void {
    if (this.#last) void this.run(this.#last);
  }
}

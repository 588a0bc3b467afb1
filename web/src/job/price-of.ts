// The price of a job as a list shows it: lowest and highest, as the engine says; null where it cannot say.
import { ask } from '../engine/client';
import type { Price } from './kept';

export async function priceOf(text: string): Promise<Price | null> {
  try {
    const { total } = await ask({ command: 'price', job: text, customer: true });
    if ('exact' in total) return { low: total.exact, high: total.exact };
    if ('between' in total) return { low: total.between.low, high: total.between.high };
    // An incomplete price would look like a whole one in a list.
    return null;
  } catch {
    return null;
  }
}

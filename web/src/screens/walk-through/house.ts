// The two pictures as the engine reads them out of the job's text, in the form the walk-through shows.
import type { Picture, ReadAnswer, ReadHouse } from '../../engine/types';
import type { Fact } from '../../job/fact';

export type { Picture };

export type Change = 'kept' | 'replaced' | 'new' | 'removed';
export type Read = ReadAnswer;
export type House = ReadHouse;
/** A board, a feeder, a circuit ..., looked at by the names of its entries. */
export type Thing = { id: string; change?: Change; [entry: string]: unknown };
type Kind = 'boards' | 'feeders' | 'circuits' | 'loads' | 'walls';

/** The boards, feeders, circuits, loads ... of a picture, in the order of the file. */
export function things(house: Partial<Record<Kind, object>> | undefined, kind: Kind): Thing[] {
  return Object.values(house?.[kind] ?? {}) as Thing[];
}

/** The entry at a path inside a thing. */
export function entry(thing: object | undefined, path: readonly string[]): unknown {
  return path.reduce<unknown>((at, part) => (at !== null && typeof at === 'object' ? (at as Record<string, unknown>)[part] : undefined), thing);
}

/** An entry as a fact: plain entries (a name, a count of poles) are known as they stand. */
export function fact(thing: object | undefined, path: readonly string[]): Fact | undefined {
  const value = entry(thing, path);
  if (value === undefined || value === null) return undefined;
  if (typeof value === 'object' && 'known' in value) return value as Fact;
  return { known: true, is: value, by: 'seen' };
}

/** What is known, as text; empty when it is not. */
export function told(thing: object | undefined, ...path: string[]): string {
  const known = fact(thing, path);
  if (known?.known !== true || known.is === null || known.is === undefined) return '';
  return Array.isArray(known.is) ? known.is.join(', ') : String(known.is);
}

/** A name for a file from words: letters, digits, hyphens; not one of `taken`. */
export function nameFor(words: string, taken: readonly string[], otherwise: string): string {
  const plain = words.toLowerCase().normalize('NFKD').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 28).replace(/-+$/, '');
  const first = plain === '' ? otherwise : plain;
  if (!taken.includes(first)) return first;
  for (let n = 2; ; n += 1) if (!taken.includes(`${first}-${n}`)) return `${first}-${n}`;
}

/** Boards in the order of supply: the utility's first, each before those it feeds; what nothing feeds comes last. */
export function bySupply(house: Partial<Record<Kind, object>> | undefined): { board: Thing; feeder: Thing | undefined; depth: number }[] {
  const boards = things(house, 'boards');
  const feeders = things(house, 'feeders');
  const into = new Map(feeders.map((feeder) => [told(feeder, 'to'), feeder]));
  const seen = new Set<string>();
  const ordered: { board: Thing; feeder: Thing | undefined; depth: number }[] = [];
  const walk = (from: string, depth: number): void => {
    for (const board of boards) {
      const feeder = into.get(board.id);
      if (seen.has(board.id) || !feeder || told(feeder, 'from') !== from) continue;
      seen.add(board.id);
      ordered.push({ board, feeder, depth });
      walk(board.id, depth + 1);
    }
  };
  walk('utility', 0);
  for (const board of boards) if (!seen.has(board.id)) ordered.push({ board, feeder: into.get(board.id), depth: 0 });
  return ordered;
}

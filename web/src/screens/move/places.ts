// Which place of the sweep is nearest to where the finger is, and which runs of places have the same verdict?
// Source: the move answer. Everything shown of a place was worked out by the engine; here places are only found.

export interface Placed {
  at: { x: number };
}

/** Number of the place whose `x` is nearest; places go from left to right. */
export function nearest(places: readonly Placed[], x: number): number {
  let low = 0;
  let high = places.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((places[middle]?.at.x ?? 0) <= x) low = middle;
    else high = middle;
  }
  const left = places[low]?.at.x ?? 0;
  const right = places[high]?.at.x ?? left;
  return Math.abs(x - left) <= Math.abs(right - x) ? low : high;
}

export interface Run<T> {
  verdict: string;
  places: T[];
}

/** Neighbouring places with the same verdict. */
export function runs<T extends { legality: { is: string } }>(places: readonly T[]): Run<T>[] {
  const all: Run<T>[] = [];
  for (const place of places) {
    const last = all.at(-1);
    if (last && last.verdict === place.legality.is) last.places.push(place);
    else all.push({ verdict: place.legality.is, places: [place] });
  }
  return all;
}

/** A line through points, for the `d` of a path. */
export function line(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], n) => `${n === 0 ? 'M' : 'L'}${x} ${y}`).join('');
}

/** A closed area between two lines over the same places. */
export function band(upper: readonly (readonly [number, number])[], lower: readonly (readonly [number, number])[]): string {
  return upper.length === 0 ? '' : `${line([...upper, ...[...lower].reverse()])}Z`;
}

/** The corners of a rectangle as a path: what reaches from one number to another needs no width. */
export function box(left: number, low: number, right: number, high: number): string {
  return `M${left} ${low}H${right}V${high}H${left}Z`;
}

export interface Named {
  requirement: string;
  title: string;
  section: string;
  sort: string;
  name: string;
  sure: boolean;
}

export interface AskedOf {
  requirement: string;
  title: string;
  section: string;
  sort: string;
  sure: string[];
  perhaps: string[];
}

/** What a place brings up, one entry for each requirement. */
export function grouped(asked: readonly Named[]): AskedOf[] {
  const all = new Map<string, AskedOf>();
  for (const one of asked) {
    const { requirement, title, section, sort } = one;
    const entry = all.get(requirement) ?? { requirement, title, section, sort, sure: [], perhaps: [] };
    (one.sure ? entry.sure : entry.perhaps).push(one.name);
    all.set(requirement, entry);
  }
  return [...all.values()].sort((a, b) => Number(b.sure.length > 0) - Number(a.sure.length > 0));
}

// Where does each breaker stand on the drawing of a board, and where does a dragged one go? How the spaces are counted the engine tells.
// Source: the spaces as the engine gives them. Columns and rows of the board; no electrical quantity is worked out here.

export type Leg = 'A' | 'B';

export interface Space {
  number: number;
  column: number;
  row: number;
  leg: Leg | null;
}

/** What is where: the spaces of each circuit, feeder or device as the job file writes them ("3", "19A"). */
export type Arrangement = Record<string, string[]>;

export interface Block {
  /** The same while a breaker is carried about, so that it keeps the keyboard. */
  key: string;
  id: string;
  column: number;
  row: number;
  rows: number;
  /** Which half of a space: `A` is the upper one. */
  half: Leg | null;
  leg: Leg | null;
  numbers: string[];
}

export function spaceNumber(written: string): number {
  return Number.parseInt(written, 10);
}

export function halfOf(written: string): Leg | null {
  const last = written.at(-1);
  return last === 'A' || last === 'B' ? last : null;
}

/** Blocks to draw. A breaker over neighbouring spaces is one block; spaces that do not touch are drawn apart. */
export function blocksOf(spaces: Space[], arrangement: Arrangement): Block[] {
  const byNumber = new Map(spaces.map((space) => [space.number, space]));
  return Object.entries(arrangement).flatMap(([id, numbers]) => blocksOfOne(id, numbers, byNumber));
}

function blocksOfOne(id: string, numbers: string[], byNumber: Map<number, Space>): Block[] {
  const seats = numbers
    .map((written) => ({ written, space: byNumber.get(spaceNumber(written)) }))
    .filter((seat): seat is { written: string; space: Space } => seat.space !== undefined)
    .sort((a, b) => a.space.column - b.space.column || a.space.row - b.space.row);
  const blocks: Block[] = [];
  for (const { written, space } of seats) {
    const last = blocks.at(-1);
    const half = halfOf(written);
    if (last && !half && !last.half && last.column === space.column && last.row + last.rows === space.row) {
      last.rows += 1;
      last.numbers.push(written);
    } else {
      blocks.push({ key: `${id} ${blocks.length}`, id, column: space.column, row: space.row, rows: 1, half, leg: space.leg, numbers: [written] });
    }
  }
  return blocks;
}

/** Spaces of one column from a row on, as many as asked; nothing where the board ends before. */
export function seatAt(spaces: Space[], column: number, row: number, rows: number): string[] | null {
  const seat: string[] = [];
  for (let n = 0; n < rows; n += 1) {
    const space = spaces.find((s) => s.column === column && s.row === row + n);
    if (!space) return null;
    seat.push(String(space.number));
  }
  return seat;
}

/**
 * The arrangement with a breaker put elsewhere. Breakers that stand wholly inside the new seat move into the seat that became free;
 * others stay, and the engine says that the space is taken.
 */
export function moved(spaces: Space[], arrangement: Arrangement, id: string, seat: string[]): Arrangement {
  const free = arrangement[id] ?? [];
  const next: Arrangement = { ...arrangement, [id]: seat };
  const wanted = new Set(seat.map(spaceNumber));
  // Only whole spaces change hands; halves of a tandem stay together.
  if (free.length === 0 || [...free, ...seat].some((written) => halfOf(written) !== null)) return next;
  const left = free.filter((written) => !wanted.has(spaceNumber(written)));
  const others = Object.entries(arrangement)
    .filter(([other, numbers]) => other !== id && numbers.some((written) => wanted.has(spaceNumber(written))))
    .sort((a, b) => firstRow(spaces, a[1]) - firstRow(spaces, b[1]));
  let room = [...left];
  for (const [other, numbers] of others) {
    const inside = numbers.every((written) => wanted.has(spaceNumber(written)) && halfOf(written) === null);
    if (!inside || room.length < numbers.length) continue;
    next[other] = room.slice(0, numbers.length);
    room = room.slice(numbers.length);
  }
  return next;
}

function firstRow(spaces: Space[], numbers: string[]): number {
  const rows = numbers.map((written) => spaces.find((s) => s.number === spaceNumber(written))?.row ?? 0);
  return Math.min(...rows);
}

/** The first free seat for so many poles, from the top, left column first; nothing where there is none. */
export function freeSeat(spaces: Space[], arrangement: Arrangement, poles: number): string[] | null {
  const taken = new Set(Object.values(arrangement).flat().map(spaceNumber));
  for (const space of spaces.toSorted((a, b) => a.row - b.row || a.column - b.column)) {
    const seat = seatAt(spaces, space.column, space.row, poles);
    if (seat && seat.every((written) => !taken.has(spaceNumber(written)))) return seat;
  }
  return null;
}

export type Step = 'up' | 'down' | 'across';

/** One step with the keyboard; nothing where the board ends. */
export function stepped(spaces: Space[], block: Block, step: Step): string[] | null {
  const column = step === 'across' ? 1 - block.column : block.column;
  const row = block.row + (step === 'up' ? -1 : step === 'down' ? 1 : 0);
  return seatAt(spaces, column, row, block.rows);
}

export function sameArrangement(a: Arrangement, b: Arrangement): boolean {
  const ids = Object.keys(a);
  return ids.length === Object.keys(b).length && ids.every((id) => (a[id] ?? []).join() === (b[id] ?? ['-']).join());
}

// What stands on a board, from the engine's answer, as the drawing wants it.
import type { BoardAsStated, SpaceOnFace, ThingOnBoard } from '../../engine/types';
import type { Arrangement } from './grid';

export interface Picture {
  standing: Record<string, ThingOnBoard>;
  arrangement: Arrangement;
  /** Circuits without a space. */
  tray: string[];
  spaces: SpaceOnFace[];
  width: number;
  height: number;
}

/** Nothing while nobody says how many spaces there are. */
export function pictureOf(board: BoardAsStated | null | undefined): Picture | null {
  if (!board || board.spaces.length === 0) return null;
  const things = Object.entries(board.things);
  return {
    standing: board.things,
    arrangement: Object.fromEntries(things.filter(([, thing]) => thing.spaces.length > 0).map(([name, thing]) => [name, thing.spaces])),
    tray: things.filter(([, thing]) => thing.kind === 'circuit' && thing.spaces.length === 0).map(([name]) => name),
    spaces: board.spaces,
    width: board.width_in,
    height: board.height_in ?? 0,
  };
}

export type Solved = { spaces: { occupants: Pick<SpaceOnFace['occupants'][number], 'name' | 'space'>[] }[] };

/** The arrangement of a solved face. */
export function arrangementOf(face: Solved): Arrangement {
  const all: Arrangement = {};
  for (const { occupants } of face.spaces) for (const one of occupants) (all[one.name] ??= []).push(one.space);
  return all;
}

// What stands on a board, from the picture that the engine read: circuits, feeders that leave it, sources, devices.
import type { FaceAnswer } from '../../engine/types';
import { type BoardIn, type HouseIn, known } from '../common/house';
import type { Arrangement } from './grid';

export type Kind = 'circuit' | 'feeder' | 'source' | 'device';

export interface Standing {
  kind: Kind;
  serves: string;
  amps: number | null;
  poles: number | null;
  pinned: boolean;
}

export interface OnBoard {
  standing: Record<string, Standing>;
  arrangement: Arrangement;
  /** Named without a space. */
  tray: string[];
}

export function onBoard(house: HouseIn, id: string, board: BoardIn): OnBoard {
  const all: OnBoard = { standing: {}, arrangement: {}, tray: [] };
  const put = (name: string, standing: Standing, spaces: readonly (string | number)[] | null): void => {
    all.standing[name] = standing;
    if (spaces && spaces.length > 0) all.arrangement[name] = spaces.map(String);
    else if (standing.kind === 'circuit') all.tray.push(name);
  };
  for (const [name, c] of Object.entries(house.circuits)) {
    if (c.board !== id || c.gone) continue;
    put(name, { kind: 'circuit', serves: c.serves, amps: known(c.amps), poles: c.poles, pinned: c.pinned }, known(c.spaces));
  }
  for (const [name, f] of Object.entries(house.feeders)) {
    if (f.from === id && !f.gone) put(name, { kind: 'feeder', serves: f.to, amps: known(f.breaker), poles: null, pinned: false }, known(f.spaces));
  }
  for (const [name, s] of Object.entries(house.sources)) {
    if (s.board === id) put(name, { kind: 'source', serves: name, amps: null, poles: null, pinned: false }, known(s.spaces));
  }
  for (const [name, d] of Object.entries(board.devices)) {
    put(name, { kind: 'device', serves: d.kind, amps: null, poles: null, pinned: d.pinned }, known(d.spaces));
  }
  return all;
}

export type Solved = { spaces: { number: number; occupants: Pick<FaceAnswer['spaces'][number]['occupants'][number], 'name' | 'half'>[] }[] };

/** The arrangement of a solved face; the halves of a tandem are written `19A`, `19B`, upper first. */
export function arrangementOf(face: Solved): Arrangement {
  const all: Arrangement = {};
  for (const space of face.spaces) {
    space.occupants.forEach((one, n) => {
      const written = one.half ? `${space.number}${n === 0 ? 'A' : 'B'}` : String(space.number);
      (all[one.name] ??= []).push(written);
    });
  }
  return all;
}

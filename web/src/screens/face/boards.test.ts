import { expect, it } from 'vitest';
import type { BoardAsStated, ThingOnBoard } from '../../engine/types';
import { eight } from './eight';
import { arrangementOf, pictureOf } from './boards';

const thing = (over: Partial<ThingOnBoard>): ThingOnBoard => ({ kind: 'circuit', serves: 's', amps: 15, poles: 1, pinned: false, spaces: ['1'], ...over });

it('a circuit without a space lies in the tray; a device without one does not', () => {
  const things = { a: thing({}), lost: thing({ spaces: [] }), main: thing({ kind: 'device', spaces: ['2', '4'] }), monitor: thing({ kind: 'device', spaces: [] }) };
  const board: BoardAsStated = { spaces: eight, things, width_in: 14.25, height_in: null };
  const all = pictureOf(board);
  expect(all?.arrangement).toEqual({ a: ['1'], main: ['2', '4'] });
  expect(all?.tray).toEqual(['lost']);
  expect(pictureOf({ ...board, spaces: [] })).toBeNull();
  expect(pictureOf(null)).toBeNull();
});

it('a solved face becomes an arrangement, tandem halves by letter', () => {
  const at = (name: string, space: string) => ({ name, space });
  const solved = { spaces: [{ occupants: [at('dryer', '1')] }, { occupants: [at('dryer', '3')] }, { occupants: [at('x', '5A'), at('y', '5B')] }, { occupants: [] }] };
  expect(arrangementOf(solved)).toEqual({ dryer: ['1', '3'], x: ['5A'], y: ['5B'] });
});

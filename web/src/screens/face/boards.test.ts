import { expect, it } from 'vitest';
import type { HouseIn } from '../common/house';
import { arrangementOf, onBoard } from './boards';

const seen = <T>(is: T) => ({ known: true as const, is, by: 'seen' });
const unknown = { known: false as const, asked: true };

it('everything on the board is found, what has no space lies in the tray, what is gone or elsewhere is left out', () => {
  const circuit = (over: object) => ({ serves: 's', board: 'P', spaces: seen(['1']), pinned: false, poles: 1, amps: seen(15), ...over });
  const board = { devices: { main: { kind: 'main_breaker', spaces: seen([2, 4]), pinned: false } } };
  const house = {
    circuits: { a: circuit({}), lost: circuit({ spaces: unknown }), gone: circuit({ gone: true }), other: circuit({ board: 'S' }) },
    feeders: { f: { from: 'P', to: 'Q', breaker: seen(60), spaces: seen([3, 5]) } },
    sources: {},
  } as unknown as HouseIn;
  const all = onBoard(house, 'P', board as never);
  expect(all.arrangement).toEqual({ a: ['1'], f: ['3', '5'], main: ['2', '4'] });
  expect(all.tray).toEqual(['lost']);
});

it('a solved face becomes an arrangement, tandem halves by letter', () => {
  const half = (name: string) => ({ name, half: true });
  const solved = { spaces: [{ number: 1, occupants: [{ name: 'dryer', half: false }] }, { number: 3, occupants: [{ name: 'dryer', half: false }] }, { number: 5, occupants: [half('x'), half('y')] }, { number: 7, occupants: [] }] };
  expect(arrangementOf(solved)).toEqual({ dryer: ['1', '3'], x: ['5A'], y: ['5B'] });
});

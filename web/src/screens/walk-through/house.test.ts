import { expect, test } from 'vitest';
import { bySupply, fact, nameFor, told } from './house';

test('boards come in the order of supply, and one that nothing feeds is not forgotten', () => {
  const house = {
    boards: { C: { id: 'C' }, B: { id: 'B' }, A: { id: 'A' }, lone: { id: 'lone' } },
    feeders: { s: { id: 's', from: 'utility', to: 'A' }, b: { id: 'b', from: 'A', to: 'B' }, c: { id: 'c', from: 'B', to: 'C' } },
  };
  expect(bySupply(house).map((row) => [row.board.id, row.depth])).toEqual([['A', 0], ['B', 1], ['C', 2], ['lone', 0]]);
});

test('feeders in a ring do not hang the drawing', () => {
  const house = { boards: { A: { id: 'A' }, B: { id: 'B' } }, feeders: { x: { id: 'x', from: 'A', to: 'B' }, y: { id: 'y', from: 'B', to: 'A' } } };
  expect(bySupply(house).map((row) => row.board.id).sort()).toEqual(['A', 'B']);
});

test('a name is made of words, is never empty, and never taken twice', () => {
  expect(nameFor('Küche, north wall!', [], 'circuit')).toBe('ku-che-north-wall');
  expect(nameFor('???', [], 'circuit')).toBe('circuit');
  expect(nameFor('Bath', ['bath', 'bath-2'], 'circuit')).toBe('bath-3');
  expect(nameFor('x'.repeat(90), [], 'circuit').length).toBeLessThanOrEqual(28);
});

test('known, asked and left out are three things', () => {
  const thing = { bus: { known: true, is: 125, by: 'label' }, main: { known: false, asked: true }, name: 'hall', spaces: { known: true, is: ['3', '5'], by: 'seen' } };
  expect(told(thing, 'bus')).toBe('125');
  expect(told(thing, 'main')).toBe('');
  expect(told(thing, 'spaces')).toBe('3, 5');
  expect(fact(thing, ['main'])).toEqual({ known: false, asked: true });
  expect(fact(thing, ['name'])).toEqual({ known: true, is: 'hall', by: 'seen' });
  expect(fact(thing, ['location'])).toBeUndefined();
});

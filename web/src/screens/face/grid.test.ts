import { describe, expect, it } from 'vitest';
import { blocksOf, freeSeat, moved, seatAt, spacesOf, stepped } from './grid';

const twelve = spacesOf(12, 'across', 'AB');

describe('spaces of a board', () => {
  it('count across: odd numbers left, even numbers right, legs by row', () => {
    expect(twelve[0]).toMatchObject({ number: 1, column: 0, row: 0, leg: 'A' });
    expect(twelve[1]).toMatchObject({ number: 2, column: 1, row: 0, leg: 'A' });
    expect(twelve[2]).toMatchObject({ number: 3, column: 0, row: 1, leg: 'B' });
  });
  it('count down: the first column to its end, then the second', () => {
    const down = spacesOf(12, 'down', 'AB');
    expect(down[5]).toMatchObject({ number: 6, column: 0, row: 5 });
    expect(down[6]).toMatchObject({ number: 7, column: 1, row: 0 });
  });
  it('claim no leg where nobody knows it', () => {
    expect(spacesOf(2, 'across', null)[0]?.leg).toBeNull();
  });
});

describe('blocks', () => {
  it('draw a two-pole breaker as one and the halves of a tandem apart', () => {
    const blocks = blocksOf(twelve, { dryer: ['2', '4'], a: ['5A'], b: ['5B'] });
    expect(blocks.find((b) => b.id === 'dryer')).toMatchObject({ column: 1, row: 0, rows: 2 });
    expect(blocks.filter((b) => b.half).map((b) => b.half)).toEqual(['A', 'B']);
  });
  it('draw what does not touch in two pieces, and leave out what is not on the board', () => {
    expect(blocksOf(twelve, { odd: ['1', '5'] })).toHaveLength(2);
    expect(blocksOf(twelve, { ghost: ['99'] })).toHaveLength(0);
  });
});

describe('moving a breaker', () => {
  it('changes places with what stands wholly in its new seat', () => {
    const next = moved(twelve, { dryer: ['1', '3'], x: ['2'], y: ['4'] }, 'dryer', ['2', '4']);
    expect(next).toEqual({ dryer: ['2', '4'], x: ['1'], y: ['3'] });
  });
  it('by one row shifts the neighbour over', () => {
    const next = moved(twelve, { dryer: ['1', '3'], x: ['5'] }, 'dryer', ['3', '5']);
    expect(next).toEqual({ dryer: ['3', '5'], x: ['1'] });
  });
  it('loses nothing: a wide breaker that does not fit the freed seat stays, for the engine to refuse', () => {
    const next = moved(twelve, { x: ['1'], dryer: ['2', '4'] }, 'x', ['2']);
    expect(next).toEqual({ x: ['2'], dryer: ['2', '4'] });
  });
  it('finds the first free seat, and none where no two spaces of one column are free', () => {
    const four = spacesOf(4, 'across', 'AB');
    expect(freeSeat(four, { a: ['1'] }, 1)).toEqual(['2']);
    expect(freeSeat(four, { a: ['1'] }, 2)).toEqual(['2', '4']);
    expect(freeSeat(four, { a: ['1'], b: ['4'] }, 2)).toBeNull();
  });
  it('does not run off the board', () => {
    const block = blocksOf(twelve, { x: ['1'] })[0]!;
    expect(stepped(twelve, block, 'up')).toBeNull();
    expect(stepped(twelve, block, 'across')).toEqual(['2']);
    expect(seatAt(twelve, 0, 5, 2)).toBeNull();
  });
});

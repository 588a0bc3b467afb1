import { describe, expect, it } from 'vitest';
import { eight } from './eight';
import { blocksOf, freeSeat, moved, seatAt, stepped } from './grid';

const four = eight.filter((space) => space.row < 2);

describe('blocks', () => {
  it('draw a two-pole breaker as one and the halves of a tandem apart', () => {
    const blocks = blocksOf(eight, { dryer: ['2', '4'], a: ['5A'], b: ['5B'] });
    expect(blocks.find((b) => b.id === 'dryer')).toMatchObject({ column: 1, row: 0, rows: 2 });
    expect(blocks.filter((b) => b.half).map((b) => b.half)).toEqual(['A', 'B']);
  });
  it('draw what does not touch in two pieces, and leave out what is not on the board', () => {
    expect(blocksOf(eight, { odd: ['1', '5'] })).toHaveLength(2);
    expect(blocksOf(eight, { ghost: ['99'] })).toHaveLength(0);
  });
});

describe('moving a breaker', () => {
  it('changes places with what stands wholly in its new seat', () => {
    const next = moved(eight, { dryer: ['1', '3'], x: ['2'], y: ['4'] }, 'dryer', ['2', '4']);
    expect(next).toEqual({ dryer: ['2', '4'], x: ['1'], y: ['3'] });
  });
  it('by one row shifts the neighbour over', () => {
    const next = moved(eight, { dryer: ['1', '3'], x: ['5'] }, 'dryer', ['3', '5']);
    expect(next).toEqual({ dryer: ['3', '5'], x: ['1'] });
  });
  it('loses nothing: a wide breaker that does not fit the freed seat stays, for the engine to refuse', () => {
    const next = moved(eight, { x: ['1'], dryer: ['2', '4'] }, 'x', ['2']);
    expect(next).toEqual({ x: ['2'], dryer: ['2', '4'] });
  });
  it('finds the first free seat, and none where no two spaces of one column are free', () => {
    expect(freeSeat(four, { a: ['1'] }, 1)).toEqual(['2']);
    expect(freeSeat(four, { a: ['1'] }, 2)).toEqual(['2', '4']);
    expect(freeSeat(four, { a: ['1'], b: ['4'] }, 2)).toBeNull();
  });
  it('does not run off the board', () => {
    const block = blocksOf(eight, { x: ['1'] })[0]!;
    expect(stepped(eight, block, 'up')).toBeNull();
    expect(stepped(eight, block, 'across')).toEqual(['2']);
    expect(seatAt(eight, 0, 3, 2)).toBeNull();
  });
});

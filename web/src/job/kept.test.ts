import { describe, expect, test } from 'vitest';
import { type Kept, editsThatWait, met, saved, saving } from './kept';

const edit = { at: ['title'], to: 'x' };
const kept = (changes: Partial<Kept> = {}): Kept => ({
  id: 'a', title: '', address: '', customer: '', stage: 'walk_through', next_date: null, price: null, updated_at: 0,
  text: 'mine', seq: 3, base: { revision: 1, text: 'old' }, waiting: true,
  pending: [{ what: 'one', edits: [edit] }], conflict: null, refused: null, steps: ['', 'one'], step: 1, ...changes,
});

describe('a save that was answered', () => {
  test('leaves nothing waiting when nothing changed meanwhile', () => {
    const after = saved(kept(), { text: 'mine', seq: 3, pending: 1 }, 2);
    expect(after).toMatchObject({ waiting: false, pending: [], base: { revision: 2, text: 'mine' } });
  });
  test('leaves what was edited meanwhile waiting, and only that', () => {
    const later = { what: 'two', edits: [edit] };
    const now = kept({ text: 'newer', seq: 4, pending: [{ what: 'one', edits: [edit] }, later] });
    const after = saved(now, { text: 'mine', seq: 3, pending: 1 }, 2);
    expect(after).toMatchObject({ waiting: true, text: 'newer', pending: [later], base: { revision: 2, text: 'mine' } });
  });
});

describe('a newer version on the server', () => {
  const theirs = { revision: 5, text: 'theirs', by: 'office', at: 1 };
  test('is a conflict when something waits here, and both texts are kept', () => {
    expect(met(kept(), theirs)).toMatchObject({ text: 'mine', conflict: theirs, waiting: true });
  });
  test('is no conflict when it says the same', () => {
    expect(met(kept(), { ...theirs, text: 'mine' })).toMatchObject({ conflict: null, waiting: false, base: { revision: 5 } });
  });
});

test('a step back in the history cannot be laid over another text', () => {
  expect(editsThatWait(kept())).toEqual([edit]);
  expect(editsThatWait(kept({ pending: [{ what: 'one', edits: [edit] }, { what: '', edits: null }] }))).toBeNull();
});

test('a conflict is said before anything else, and an unreachable server before sending', () => {
  expect(saving(kept({ conflict: { revision: 2, text: '', by: '', at: 0 }, refused: 'x' }), false, true)).toBe('conflict');
  expect(saving(kept(), false, true)).toBe('waiting');
  expect(saving(kept(), true, true)).toBe('sending');
  expect(saving(kept({ waiting: false }), false, false)).toBe('saved');
});

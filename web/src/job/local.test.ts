import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import type { Kept } from './kept';
import * as local from './local';

const kept = (id: string): Kept => ({
  id, title: '', address: '', customer: '', stage: 'walk_through', next_date: null, price: null, updated_at: 0,
  text: 'first', seq: 0, base: null, waiting: true, pending: [], conflict: null, refused: null, steps: [''], step: 0,
});
const edited = (text: string) => (now: Kept) => ({ ...now, text, seq: now.seq + 1, steps: [...now.steps.slice(0, now.step + 1), text], step: now.step + 1 });

test('every edit is kept with its step, and a new edit after a step back drops what could be redone', async () => {
  await local.put(kept('a'));
  await local.update('a', edited('second'));
  await local.update('a', edited('third'));
  await local.update('a', (now) => ({ ...now, text: 'second', step: 1 }));
  await local.update('a', edited('other'));
  expect((await local.job('a'))?.text).toBe('other');
  expect((await local.step('a', 1))?.text).toBe('second');
  expect((await local.step('a', 2))?.text).toBe('other');
  expect(await local.step('a', 3)).toBeUndefined();
});

test('two changes at once are both counted', async () => {
  await local.put(kept('b'));
  await Promise.all(['x', 'y', 'z'].map((text) => local.update('b', edited(text))));
  expect((await local.job('b'))?.seq).toBe(3);
});

test('one job leaves another alone', async () => {
  await local.put(kept('c'));
  await local.put(kept('c2'));
  await local.update('c', edited('second'));
  await local.put(kept('c'));
  expect((await local.step('c2', 0))?.text).toBe('first');
  expect(await local.step('c', 1)).toBeUndefined();
});

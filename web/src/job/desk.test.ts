import 'fake-indexeddb/auto';
import { beforeEach, expect, test, vi } from 'vitest';
import { Refused } from '../engine/door';
import type { Kept } from './kept';
import * as local from './local';

// An engine in small: a job is lines of `name = value`, an edit sets one.
vi.mock('../engine/client', () => ({
  ask: async (question: { command: string; job: string; edits: { at: string[]; to: string }[] }) => {
    if (question.command !== 'edit') throw new Error('not asked here');
    let text = question.job;
    for (const { at, to } of question.edits) {
      if (to === 'nonsense') throw new Refused([{ line: 1, column: 1, found: to, expected: 'sense' }]);
      const line = new RegExp(`^${at[0]} = .*$`, 'm');
      text = line.test(text) ? text.replace(line, `${at[0]} = ${to}`) : `${text}\n${at[0]} = ${to}`;
    }
    return { command: 'edit', job: text };
  },
}));
vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no line')));

const { desk } = await import('./desk.svelte');
let n = 0;

beforeEach(async () => {
  n += 1;
  const kept: Kept = {
    id: `job-${n}`, title: '', address: '', customer: '', stage: 'walk_through', next_date: null, price: null, updated_at: 0,
    text: 'a = 1', seq: 0, base: { revision: 1, text: 'a = 1' }, waiting: false, pending: [], conflict: null, refused: null, steps: [''], step: 0,
  };
  await local.put(kept);
  await desk.open(kept.id);
});
const kept = async () => (await local.job(`job-${n}`)) as Kept;
const set = (name: string, to: string) => desk.apply([{ at: [name], to }], `${name} to ${to}`);

test('an edit is kept before it is shown, and waits for the server', async () => {
  await set('a', '2');
  expect(desk.job?.text).toBe('a = 2');
  expect(await kept()).toMatchObject({ text: 'a = 2', waiting: true, pending: [{ what: 'a to 2' }] });
});

test('an edit that the engine refuses changes nothing', async () => {
  await expect(set('a', 'nonsense')).rejects.toBeInstanceOf(Refused);
  expect(await kept()).toMatchObject({ text: 'a = 1', seq: 0, waiting: false });
});

test('quick edits follow each other and none is lost', async () => {
  await Promise.all([set('a', '2'), set('b', '3'), set('c', '4')]);
  expect(desk.job?.text).toBe('a = 2\nb = 3\nc = 4');
});

test('an edit is made on what another tab wrote meanwhile', async () => {
  await local.update(`job-${n}`, (now) => ({ ...now, text: 'a = 1\nother = tab', seq: now.seq + 1 }));
  await set('a', '2');
  expect(desk.job?.text).toBe('a = 2\nother = tab');
});

test('undo and redo walk the steps; a new edit drops what could be redone', async () => {
  await set('a', '2');
  await set('a', '3');
  expect(desk.canUndo).toBe('a to 3');
  await desk.undo();
  expect(desk.job?.text).toBe('a = 2');
  expect(desk.canRedo).toBe('a to 3');
  await desk.redo();
  expect(desk.job?.text).toBe('a = 3');
  await desk.undo();
  await desk.undo();
  expect(desk.job?.text).toBe('a = 1');
  expect(desk.canUndo).toBeNull();
  await set('b', '9');
  expect(desk.canRedo).toBeNull();
  expect(desk.job?.text).toBe('a = 1\nb = 9');
});

const meet = () => local.update(`job-${n}`, (now) => ({ ...now, conflict: { revision: 7, text: 'a = 1\ntheirs = yes', by: 'office', at: 1 } }));

test('my edits laid over theirs keep both', async () => {
  await set('a', '2');
  await meet();
  await desk.layOver('both');
  expect(await kept()).toMatchObject({ text: 'a = 2\ntheirs = yes', base: { revision: 7 }, waiting: true, conflict: null });
});

test('theirs chosen: mine is one step back', async () => {
  await set('a', '2');
  await meet();
  await desk.keepTheirs('theirs');
  expect(await kept()).toMatchObject({ text: 'a = 1\ntheirs = yes', base: { revision: 7 }, waiting: false, conflict: null });
  await desk.undo();
  expect(await kept()).toMatchObject({ text: 'a = 2', waiting: true });
});

test('mine chosen: the next save is based on theirs', async () => {
  await set('a', '2');
  await meet();
  await desk.keepMine();
  expect(await kept()).toMatchObject({ text: 'a = 2', base: { revision: 7 }, waiting: true, conflict: null });
});

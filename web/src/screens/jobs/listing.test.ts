import { expect, test } from 'vitest';
import type { Card, Kept } from '../../job/kept';
import { merged } from './listing.svelte';

const card = (id: string, title: string): Card => ({ id, title, address: '', customer: '', stage: 'offer', next_date: null, price: null, updated_at: 1 });
const kept = (id: string, title: string, waiting: boolean): Kept => ({
  ...card(id, title), text: '', seq: 1, base: null, waiting, pending: [], conflict: null, refused: null, steps: [''], step: 0,
});

test('what waits here comes first and once; what is saved is shown as the server has it', () => {
  const rows = merged([card('a', 'old title'), card('b', 'other')], [kept('a', 'new title', true), kept('b', 'stale', false), kept('c', 'made offline', true)], '', false);
  expect(rows.map((row) => [row.title, row.saving])).toEqual([['new title', 'waiting'], ['made offline', 'waiting'], ['other', null]]);
});

test('every word of a search must be there, in any order and case', () => {
  const there = [card('a', 'Closet panel to the Hall'), card('b', 'Garage')];
  expect(merged(there, [], 'hall CLOSET', true).map((row) => row.id)).toEqual(['a']);
  expect(merged(there, [kept('c', 'closet', true)], 'hall closet', true).map((row) => row.id)).toEqual(['a']);
});

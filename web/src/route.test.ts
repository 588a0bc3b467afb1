import { expect, test } from 'vitest';
import { read } from './route.svelte';

test('every address leads to one place, and a wrong one to none', () => {
  const cases = [
    ['/', { kind: 'jobs' }],
    ['/new', { kind: 'new' }],
    ['/jobs/7f/cut-over', { kind: 'job', id: '7f', stage: 'cut-over' }],
    ['/jobs/7f', { kind: 'job', id: '7f', stage: 'walk-through' }],
    ['/jobs/7f/nothing', { kind: 'nowhere' }],
    ['/jobs/7f/load/more', { kind: 'nowhere' }],
    ['/other', { kind: 'nowhere' }],
  ] as const;
  for (const [path, place] of cases) expect(read(path)).toEqual(place);
});

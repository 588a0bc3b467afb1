import { expect, it } from 'vitest';
import { band, grouped, nearest, runs } from './places';

const places = [0, 3, 3.984375, 4, 9].map((x) => ({ at: { x } }));

it('the nearest place is found between, on, and beyond the places', () => {
  for (const x of [-5, 0, 1.4, 1.6, 3.2, 3.99, 4, 6, 7, 9, 100]) {
    const best = places.reduce((a, p, n) => (Math.abs(p.at.x - x) < Math.abs((places[a]?.at.x ?? 0) - x) ? n : a), 0);
    expect(places[nearest(places, x)]?.at.x, String(x)).toBe(places[best]?.at.x);
  }
  expect(nearest([{ at: { x: 7 } }], 0)).toBe(0);
});

it('runs keep every place once and in order', () => {
  const verdicts = ['no', 'no', 'open', 'legal', 'legal', 'no'].map((is, x) => ({ at: { x }, legality: { is } }));
  const found = runs(verdicts);
  expect(found.map((r) => [r.verdict, r.places.length])).toEqual([['no', 2], ['open', 1], ['legal', 2], ['no', 1]]);
  expect(found.flatMap((r) => r.places)).toEqual(verdicts);
});

it('a band goes out along the upper line and back along the lower', () => {
  expect(band([[0, 5], [1, 6]], [[0, 1], [1, 2]])).toBe('M0 5L1 6L1 2L0 1Z');
  expect(band([], [])).toBe('');
});

it('what is asked is grouped, what is sure comes first', () => {
  const one = (requirement: string, name: string, sure: boolean) => ({ requirement, title: requirement, section: '', sort: 'circuit', name, sure });
  const all = grouped([one('a', 'x', false), one('b', 'x', true), one('a', 'y', false), one('b', 'y', false)]);
  expect(all.map((g) => [g.requirement, g.sure, g.perhaps])).toEqual([['b', ['x'], ['y']], ['a', [], ['x', 'y']]]);
});

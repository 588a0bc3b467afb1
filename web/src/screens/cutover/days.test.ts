import { expect, it } from 'vitest';
import { clock, dayOf, days, lasting, stretches, within } from './days';

it('an hour from arrival is a time of day', () => {
  expect(clock(0, '07:30')).toBe('07:30');
  expect(clock(24.333333333333332, '07:30')).toBe('07:50');
  expect(clock(16.75, '07:30')).toBe('00:15');
  expect(clock(1.5, null)).toBe('+01:30');
  expect(clock(25.5, null)).toBe('+01:30');
});

it('a length is hours and minutes, rounded together', () => {
  expect(lasting(5.533333333333333)).toEqual({ hours: 5, minutes: 32 });
  expect(lasting(1.9999)).toEqual({ hours: 2, minutes: 0 });
});

it('days begin at arrival and end with their last task', () => {
  const all = days([{ from_h: 24, to_h: 31.8 }, { from_h: 0, to_h: 0.75 }, { from_h: 0.75, to_h: 9 }]);
  expect(all).toEqual([{ number: 1, from_h: 0, to_h: 9 }, { number: 2, from_h: 24, to_h: 31.8 }]);
  expect(dayOf(23.99)).toBe(1);
});

it('darkness over night shows on both days', () => {
  const [first, second] = days([{ from_h: 0, to_h: 8 }, { from_h: 24, to_h: 30 }]);
  const dark = { from_h: 6, to_h: 26 };
  expect(within(dark, first!)).toEqual({ from_h: 6, to_h: 8 });
  expect(within(dark, second!)).toEqual({ from_h: 24, to_h: 26 });
  expect(within({ from_h: 0, to_h: 1 }, second!)).toBeNull();
});

it('neighbouring tasks of one step are one stretch, and none is lost', () => {
  const task = (step: string, from_h: number, to_h: number, worker = 1) => ({ step, subject: '', what: '', worker, circuits: [], from_h, to_h });
  const all = [task('map', 0, 1), task('map', 1, 2), task('land', 2, 3), task('map', 3, 4), task('map', 5, 6), task('map', 0, 1, 2)];
  const found = stretches(all, 1);
  expect(found.map((s) => [s.step, s.from_h, s.to_h])).toEqual([['map', 0, 2], ['land', 2, 3], ['map', 3, 4], ['map', 5, 6]]);
  expect(found.flatMap((s) => s.tasks)).toHaveLength(5);
});

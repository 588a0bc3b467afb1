import { fireEvent, render, screen } from '@testing-library/svelte';
import { beforeEach, expect, it, vi } from 'vitest';

const ask = vi.hoisted(() => vi.fn());
const apply = vi.hoisted(() => vi.fn());
// The test's page has no layout; the drawing's width is not what is tested.
vi.stubGlobal('ResizeObserver', class { observe(): void {} unobserve(): void {} disconnect(): void {} });
vi.mock('../../engine/client', () => ({ ask }));
vi.mock('../../job/desk.svelte', () => ({ desk: { job: { text: '' }, apply } }));
import type { PanelPlace, Sweep as Swept } from '../../engine/types';
import Sweep from './Sweep.svelte';

const none = { low: 0, high: 0 };
const place = (x: number, is: 'legal' | 'open' | 'no', price: number) => ({
  at: { wall: 'hall', x, y: 40 }, way: 'splice_box' as const, on_grid: true, legality: (is === 'legal' ? { is } : { is, because: [] }) as PanelPlace['legality'], asked: 0, extended: none, splices: none, boxes: none, added_outside: none, added_total: null, beyond: [],
  judged: 0, feeders: [], cost: { hours: none, material: none, price: { low: price, high: price }, unpriced: [] }, edits: [{ at: ['after', 'boards', 'Q', 'position', 'x'], to: x }],
});
const sweep = {
  board: 'Q', old: null, cabinet: [14, 30], working_space: [30, 78],
  walls: [{ wall: 'hall', length: 100, way: 'splice_box', places: [place(0, 'legal', 111), place(10, 'no', 222), place(20, 'open', 333)], cliffs: [], best: 0 }],
  best: [0, 0], best_sure: [0, 0], judged: [{ refused: [], open: [], asked: [], missing: 0, cannot_tell: 0, feeders: [], splice_fill: null }], said: [], looked_at: [3, 3],
} as unknown as Swept;
const show = () => render(Sweep, { sweep, walls: {}, oldCabinet: [14, 30], plan: null, cables: [] });

beforeEach(() => apply.mockReset());

it('moves among the places of the sweep without asking the engine anything', async () => {
  const { container } = show();
  const slider = screen.getByRole('slider');
  expect(container.textContent).toContain('$111.00');
  await fireEvent.keyDown(slider, { key: 'End' });
  expect(container.textContent).toContain('$333.00');
  expect(slider.getAttribute('aria-valuetext')).toContain('20 in along the wall');
  await fireEvent.keyDown(slider, { key: 'ArrowLeft' });
  expect(container.textContent).toContain('$222.00');
  await fireEvent.keyDown(slider, { key: 'Home' });
  await fireEvent.keyDown(slider, { key: 'ArrowLeft' });
  expect(container.textContent).toContain('$111.00');
  expect(ask).not.toHaveBeenCalled();
  expect(apply).not.toHaveBeenCalled();
});

it('places the panel with the edits of the place, and never where no panel may go', async () => {
  show();
  const slider = screen.getByRole('slider');
  const put = screen.getByText('Place it here') as HTMLButtonElement;
  await fireEvent.keyDown(slider, { key: 'ArrowRight' });
  expect(put.disabled).toBe(true);
  await fireEvent.keyDown(slider, { key: 'ArrowRight' });
  expect(put.disabled).toBe(false);
  await fireEvent.click(put);
  expect(apply.mock.calls[0]?.[0]).toEqual([{ at: ['after', 'boards', 'Q', 'position', 'x'], to: 20 }]);
});

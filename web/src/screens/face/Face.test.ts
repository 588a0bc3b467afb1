import { fireEvent, render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, it, vi } from 'vitest';

const apply = vi.hoisted(() => vi.fn());
const asked = vi.hoisted(() => [] as { command: string; spaces?: Record<string, string[]> }[]);
const legal = vi.hoisted(() => ({ now: true }));

vi.mock('../../engine/client', () => ({
  ask: (question: { command: string; spaces?: Record<string, string[]> }) => {
    asked.push(question);
    if (question.command === 'layout') {
      const legs = { load: [1000, 900], continuous: [0, 0] };
      return Promise.resolve({ legal: legal.now, legs, imbalance: 100, unplaced: [], refused: legal.now ? [] : [{ circuit: 'fridge', why: 'space 5 is taken' }], edits: legal.now ? [{ at: ['after', 'circuits', 'fridge', 'spaces'], to: ['5'] }] : [] });
    }
    if (question.command === 'board') {
      const circuit = (spaces: string[]) => ({ kind: 'circuit', serves: 'food', amps: 20, poles: 1, pinned: false, spaces });
      const stated = { spaces: eight, things: { fridge: circuit(['3']), lost: circuit([]) }, width_in: 14, height_in: 20 };
      return Promise.resolve({ command: 'board', board: 'Q', before: stated, after: stated });
    }
    if (question.command === 'face') {
      const changes = [{ what: 'the next size of box that fits: 12 spaces', amount: 4, change: { larger_box: 12 }, edits: [{ at: ['after', 'boards', 'Q', 'spaces'], to: 12 }] }];
      return Promise.resolve({ command: 'face', board: 'Q', fits: false, why_not: 'too small', changes_that_fit: changes, size: {}, said: [] });
    }
    const house = { boards: { Q: { name: 'hall', change: 'replaced', gone: false } } };
    return Promise.resolve({ command: 'read', before: house, after: house, choices: {} });
  },
}));
vi.mock('../../job/desk.svelte', () => ({ desk: { job: { text: 'format = 1' }, apply } }));
import { eight } from './eight';
import Face from './Face.svelte';

beforeEach(() => {
  apply.mockReset();
  asked.length = 0;
  legal.now = true;
});

async function stepDown(): Promise<void> {
  render(Face);
  // The board as it is stands still; only the planned one has buttons.
  const fridge = await screen.findByRole('button', { name: /^fridge/ });
  await fireEvent.keyDown(fridge, { key: 'Enter' });
  await fireEvent.keyDown(fridge, { key: 'ArrowDown' });
}

it('asks the engine about the arrangement while a breaker is carried, and keeps it only when asked to', async () => {
  await stepDown();
  await waitFor(() => expect(asked.at(-1)).toMatchObject({ command: 'layout', spaces: { fridge: ['5'] } }));
  expect(apply).not.toHaveBeenCalled();
  await fireEvent.keyDown(screen.getByRole('button', { name: /^fridge/ }), { key: 'Enter' });
  const keep = (await screen.findByText('Keep this arrangement')) as HTMLButtonElement;
  await waitFor(() => expect(keep.disabled).toBe(false));
  await fireEvent.click(keep);
  expect(apply.mock.calls[0]?.[0]).toEqual([{ at: ['after', 'circuits', 'fridge', 'spaces'], to: ['5'] }]);
});

it('says why a seat is refused and cannot keep it', async () => {
  legal.now = false;
  await stepDown();
  await fireEvent.keyDown(screen.getByRole('button', { name: /^fridge/ }), { key: 'Enter' });
  expect((await screen.findAllByText(/space 5 is taken/)).length).toBeGreaterThan(0);
  expect((screen.getByText('Keep this arrangement') as HTMLButtonElement).disabled).toBe(true);
});

it('puts a circuit that has no space on the first free one', async () => {
  render(Face);
  await fireEvent.click(await screen.findByRole('button', { name: 'Put lost on the board' }));
  await waitFor(() => expect(asked.at(-1)?.spaces).toEqual({ fridge: ['3'], lost: ['1'] }));
});

it('makes a change that fits with one press', async () => {
  render(Face);
  await fireEvent.click(await screen.findByText('Solve'));
  await fireEvent.click(await screen.findByRole('button', { name: /12 spaces/ }));
  expect(apply.mock.calls[0]).toEqual([[{ at: ['after', 'boards', 'Q', 'spaces'], to: 12 }], 'the next size of box that fits: 12 spaces']);
});

import { fireEvent, render, screen } from '@testing-library/svelte';
import { beforeEach, expect, it, vi } from 'vitest';
import { Refused } from '../../engine/door';

const apply = vi.hoisted(() => vi.fn());
vi.mock('../../job/desk.svelte', () => ({ desk: { apply } }));
import type { Takes } from '../../engine/types';
import OpenQuestion from './OpenQuestion.svelte';

function show(choices: Takes | null, places = ['a', 'b']) {
  const question = {
    fact: 'circuit.x', question: 'Is it so?', asked_of: 'survey' as const, danger: 1, swing: 40, requirements: [], worksheets: [],
    places: places.map((id) => ({ place: { kind: 'circuit' as const, id }, answer: `circuits.${id}.x`, swing: 20, at: choices ? ['before', 'circuits', id, 'facts', 'x'] : null, choices })),
  };
  return render(OpenQuestion, { question, witnesses: ['seen', 'customer'] });
}
const at = (id: string) => ['before', 'circuits', id, 'facts', 'x'];
beforeEach(() => apply.mockReset());

it('one press answers for the chosen place, and only for it', async () => {
  show({ kind: 'yes_no', unit: null, choices: [] });
  await fireEvent.change(screen.getByLabelText('Where'), { target: { value: '1' } });
  await fireEvent.click(screen.getByText('no'));
  expect(apply).toHaveBeenCalledWith([{ at: at('b'), to: false }], 'Is it so?');
});

it('one press answers for all places, and says who said so', async () => {
  show({ kind: 'yes_no', unit: null, choices: [] });
  await fireEvent.change(screen.getByLabelText('Where'), { target: { value: 'all' } });
  await fireEvent.change(screen.getByLabelText('Who says so'), { target: { value: 'customer' } });
  await fireEvent.click(screen.getByText('yes'));
  expect(apply.mock.calls[0]?.[0]).toEqual([{ at: at('a'), to: { is: true, by: 'customer' } }, { at: at('b'), to: { is: true, by: 'customer' } }]);
});

it('a number goes as a number, and what is none is refused in words with nothing lost', async () => {
  apply.mockRejectedValueOnce(new Refused([{ line: 1, column: 1, found: 'many', expected: 'a number' }]));
  show({ kind: 'number', unit: 'A', choices: [] }, ['a']);
  const entry = screen.getByLabelText(/Answer/) as HTMLInputElement;
  await fireEvent.input(entry, { target: { value: 'many' } });
  await fireEvent.click(screen.getByText('Keep'));
  expect((await screen.findByRole('alert')).textContent).toContain('a number');
  expect(entry.value).toBe('many');
  await fireEvent.input(entry, { target: { value: '22000' } });
  await fireEvent.click(screen.getByText('Keep'));
  expect(apply.mock.lastCall?.[0]).toEqual([{ at: at('a'), to: 22000 }]);
});

it('says where the answer goes when it cannot be given here', () => {
  show(null);
  expect(screen.getByText(/circuits\.a\.x/)).toBeTruthy();
});

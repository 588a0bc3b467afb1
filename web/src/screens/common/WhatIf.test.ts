import { fireEvent, render, screen, waitFor } from '@testing-library/svelte';
import { createRawSnippet } from 'svelte';
import { beforeEach, expect, it, vi } from 'vitest';
import { Refused } from '../../engine/door';

const ask = vi.hoisted(() => vi.fn());
const apply = vi.hoisted(() => vi.fn());
vi.mock('../../engine/client', () => ({ ask }));
vi.mock('../../job/desk.svelte', () => ({ desk: { job: { text: 'OLD' }, apply } }));
import WhatIf from './WhatIf.svelte';

const field = { at: ['after', 'feeders', 'f', 'breaker'], label: 'Breaker', fact: { known: true as const, is: 100, by: 'label' }, unit: 'A' };
const results = createRawSnippet<[unknown]>((value) => ({ render: () => `<p>then ${(value() as { demand: number }).demand}</p>` }));
const show = () => render(WhatIf, { about: 'Feeder f', fields: [field], results });

beforeEach(() => {
  ask.mockReset();
  apply.mockReset();
});

it('asks about a copy and leaves the job alone until it is kept', async () => {
  ask.mockImplementation((q: { command: string; job: string }) => Promise.resolve(q.command === 'edit' ? { job: 'NEW' } : { demand: q.job === 'NEW' ? 90 : 0 }));
  show();
  expect(screen.queryByText('Keep this')).toBeNull();
  await fireEvent.input(screen.getByLabelText(/Breaker/), { target: { value: '90' } });
  await screen.findByText('then 90');
  const edits = [{ at: field.at, to: { is: 90, by: 'planned' } }];
  expect(ask.mock.calls[0]?.[0]).toEqual({ command: 'edit', job: 'OLD', edits });
  expect(apply).not.toHaveBeenCalled();
  await fireEvent.click(screen.getByText('Keep this'));
  expect(apply).toHaveBeenCalledWith(edits, 'Feeder f');
});

it('says why a value is refused and cannot keep it', async () => {
  ask.mockRejectedValue(new Refused([{ line: 3, column: 1, found: 'ninety', expected: 'a number' }]));
  show();
  await fireEvent.input(screen.getByLabelText(/Breaker/), { target: { value: 'ninety' } });
  expect((await screen.findByRole('alert')).textContent).toContain('a number');
  expect((screen.getByText('Keep this') as HTMLButtonElement).disabled).toBe(true);
});

it('forgets what was tried', async () => {
  ask.mockImplementation((q: { command: string }) => Promise.resolve(q.command === 'edit' ? { job: 'NEW' } : { demand: 90 }));
  show();
  await fireEvent.input(screen.getByLabelText(/Breaker/), { target: { value: '90' } });
  await screen.findByText('then 90');
  await fireEvent.click(screen.getByText('Forget it'));
  await waitFor(() => expect(screen.queryByText('then 90')).toBeNull());
});

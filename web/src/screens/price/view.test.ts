import { fireEvent, render, waitFor } from '@testing-library/svelte';
import { expect, it, vi } from 'vitest';

const asked: { command: string; customer?: boolean }[] = [];
const cost = { minutes: 0, material: 777.01, tax_paid: 0, labour: 0, fees: 0, overhead: 0, handling: 0, contingency: 0, profit: 0, tax_charged: 0 };
vi.mock('../../engine/client', () => ({
  ask: (question: { command: string; customer?: boolean }) => {
    asked.push(question);
    const line = { group: 'boards', text: 'panel', count: 1, unit: 'each', because: 'new', requirement: null, places: [], price: 5 };
    const base = { command: 'price', open_lines: [], certain: 5, total: { exact: 5 }, incomplete_without: [], options: [], allowances: [], payments: { schedules: [], terms: [], valid_days: 1 }, exclusions: [] };
    return Promise.resolve(question.customer ? { ...base, lines: [line] } : { ...base, cost, lines: [{ ...line, cost }] });
  },
}));
vi.mock('../../job/desk.svelte', () => ({ desk: { job: { text: 'format = 1' }, apply: vi.fn() } }));

it('the customer’s view is asked of the engine as such, and the private answer leaves the page', async () => {
  const { default: Price } = await import('./Price.svelte');
  const { container, getByLabelText } = render(Price);
  await waitFor(() => expect(container.innerHTML).toContain('777.01'));
  await fireEvent.click(getByLabelText('What the customer sees'));
  await waitFor(() => expect(asked.at(-1)).toMatchObject({ command: 'price', customer: true }));
  await waitFor(() => expect(container.innerHTML).toContain('panel'));
  expect(container.innerHTML).not.toContain('777.01');
});

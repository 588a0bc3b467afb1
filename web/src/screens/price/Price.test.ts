import { render, screen } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import type { PriceAnswer } from '../../engine/types';
import PriceSheet from './PriceSheet.svelte';

const cost = { minutes: 60, material: 777.01, tax_paid: 0, labour: 48.6, fees: 0, overhead: 34, handling: 0, contingency: 3.3, profit: 888.02, tax_charged: 0 };
const line = { group: 'boards' as const, what: { work: 'demount-panel' }, text: 'demount panel', count: 1, unit: 'board', because: 'replaced', requirement: null, places: [{ kind: 'board' as const, id: 'Q' }], price: 103.49 };
// Only what the sheet reads.
type Priced = Omit<PriceAnswer, 'title' | 'reason' | 'place' | 'edition' | 'amendments' | 'notices' | 'cautions' | 'format'>;
const customer: Priced = {
  command: 'price',
  lines: [line], open_lines: [], certain: 103.49, total: { between: { low: 103.49, high: 250, bound: false } }, incomplete_without: [],
  options: [], allowances: [], payments: { schedules: [], terms: [], valid_days: 30 }, exclusions: [],
};
const own: Priced = {
  ...customer, lines: [{ ...line, cost }], cost,
  exposure: [{ requirement: 'r', title: 'Missed thing', section: '1.1', places: [{ kind: 'board', id: 'Q' }], work: 999.03, trip: 239.4 }],
  worksheet: { id: 'w', title: 'From cost to price', edition: '2023', lines: [{ label: 'Margin on price', how: '', inputs: [], value: { number: { value: 17, unit: '%' } }, cite: null, check: 'arithmetic', note: null }] },
};

describe('the price', () => {
  it('shows cost, margin and exposure on the own sheet', () => {
    const { container } = render(PriceSheet, { price: own as PriceAnswer });
    for (const private_ of ['777.01', '888.02', '999.03', 'Margin on price']) expect(container.textContent).toContain(private_);
  });
  it('has nothing private on the page for the customer', () => {
    const { container } = render(PriceSheet, { price: customer as PriceAnswer });
    expect(container.innerHTML).toContain('103.49');
    for (const word of ['Profit', 'Margin', 'Overhead', 'Contingency', 'Exposure']) expect(container.textContent).not.toContain(word);
  });
  it('never shows an incomplete price as a whole one', () => {
    render(PriceSheet, { price: { ...customer, total: { incomplete: { priced_low: 10, priced_high: 20 } }, incomplete_without: [{ what: 'cable of circuit x', advice: 'say its length' }] } as PriceAnswer });
    expect(screen.getByText(/Not complete/)).toBeTruthy();
    expect(screen.getByText(/cable of circuit x/)).toBeTruthy();
  });
});

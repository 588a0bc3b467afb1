import { render, screen } from '@testing-library/svelte';
import { expect, it } from 'vitest';
import type { LoadRemedy as Remedy } from '../../engine/types';
import LoadRemedy from './LoadRemedy.svelte';

it('tells amperes against what holds them, what ends otherwise, other boards, and where it stands', () => {
  const remedy: Remedy = {
    change: { left_out: { loads: ['charger'] } },
    text: '`charger` left for later',
    comes_to: { method: 'existing', load_now_a: 84, held_to_now_a: 80, load_a: 68, held_to_a: 80 },
    notes: ['take it out as well'],
    cites: [{ edition: '2023', section: '220.83', check: '1 source' }],
    check: '1 source',
    still_over: ['Q'],
    verdicts: [{ what: '`service`: conductors and device', now: 'fail', then: 'pass' }],
    edits: [],
  };
  render(LoadRemedy, { remedy });
  expect(document.body.textContent).toContain('68');
  expect(screen.getByText('Q is still too small for its load.')).toBeTruthy();
  expect(screen.getByText(/`service`: conductors and device/).textContent).toContain('holds');
  expect(screen.getByText('220.83')).toBeTruthy();
  expect(screen.getByText('take it out as well')).toBeTruthy();
});

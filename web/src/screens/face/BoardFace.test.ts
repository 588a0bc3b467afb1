import { fireEvent, render, screen } from '@testing-library/svelte';
import { describe, expect, it, vi } from 'vitest';
import BoardFace from './BoardFace.svelte';
import { eight } from './eight';
import { blocksOf } from './grid';

function show(pinned = false) {
  const spaces = eight;
  const props = {
    title: 'As planned', spaces, blocks: blocksOf(spaces, { fridge: ['3'], dryer: ['2', '4'] }), width: 14, height: 20,
    told: (name: string) => ({ name, line: '20 A', fixed: false, pinned, moved: false, wrong: false }),
    onpick: vi.fn(), ontry: vi.fn(), ondrop: vi.fn(), oncancel: vi.fn(),
  };
  render(BoardFace, props);
  return { ...props, fridge: screen.getByRole('button', { name: /^fridge/ }) };
}

describe('a breaker by keyboard', () => {
  it('is picked up, stepped and put down', async () => {
    const { fridge, ontry, ondrop } = show();
    await fireEvent.keyDown(fridge, { key: 'ArrowDown' });
    expect(ontry).not.toHaveBeenCalled();
    await fireEvent.keyDown(fridge, { key: 'Enter' });
    expect(fridge.getAttribute('aria-pressed')).toBe('true');
    await fireEvent.keyDown(fridge, { key: 'ArrowDown' });
    expect(ontry).toHaveBeenLastCalledWith('fridge', ['5']);
    await fireEvent.keyDown(fridge, { key: 'ArrowRight' });
    expect(ontry).toHaveBeenLastCalledWith('fridge', ['4']);
    await fireEvent.keyDown(fridge, { key: 'Enter' });
    expect(ondrop).toHaveBeenCalledOnce();
  });
  it('goes back with Escape', async () => {
    const { fridge, oncancel, ondrop } = show();
    await fireEvent.keyDown(fridge, { key: ' ' });
    await fireEvent.keyDown(fridge, { key: 'Escape' });
    expect(oncancel).toHaveBeenCalledOnce();
    expect(ondrop).not.toHaveBeenCalled();
  });
  it('stays where it is when it is pinned', async () => {
    const { fridge, ontry, onpick } = show(true);
    await fireEvent.keyDown(fridge, { key: 'Enter' });
    await fireEvent.keyDown(fridge, { key: 'ArrowDown' });
    expect(onpick).toHaveBeenCalledWith('fridge');
    expect(ontry).not.toHaveBeenCalled();
  });
});

it('every breaker tells its spaces and its leg in words', () => {
  show();
  expect(screen.getByRole('button', { name: 'dryer, 20 A, spaces 2, 4, leg A' })).toBeTruthy();
});

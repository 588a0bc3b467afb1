import { describe, expect, it } from 'vitest';
import { biting, differences, standing, together, type FindingOf } from './order';

const finding = (over: Partial<FindingOf>): FindingOf => ({
  requirement: 'r', title: 'R', verdict: 'required', missing: true, work: false, bites: 'signing', danger: 1,
  places: [{ place: { kind: 'board', id: 'P' } }], ...over,
});

describe('order of findings', () => {
  it('every verdict has its standing', () => {
    expect(standing(finding({}))).toBe('missing');
    expect(standing(finding({ work: true, missing: false }))).toBe('work');
    expect(standing(finding({ verdict: 'cannot tell if met' }))).toBe('cannot_tell');
    expect(standing(finding({ verdict: 'cannot_tell_if_applies' }))).toBe('cannot_tell');
    expect(standing(finding({ verdict: 'met' }))).toBe('met');
    expect(standing(finding({ verdict: 'not required' }))).toBe('not_required');
  });
  it('puts what is missing before what cannot be told, and the dangerous first', () => {
    const all = [finding({ requirement: 'met', verdict: 'met' }), finding({ requirement: 'open', verdict: 'cannot tell if met', danger: 3 }),
      finding({ requirement: 'mild' }), finding({ requirement: 'grave', danger: 3 }), finding({ requirement: 'late', bites: 'inspection' })];
    expect(biting(all, 'signing').map((f) => f.requirement)).toEqual(['grave', 'mild', 'open', 'met']);
  });
});

describe('editions side by side', () => {
  const at = (id: string) => ({ place: { kind: 'circuit', id } });
  it('show a place whose verdict differs and one of which only one edition speaks, and nothing else', () => {
    const here = [finding({ requirement: 'same' }), finding({ requirement: 'changed', verdict: 'met', places: [at('a'), at('b')] })];
    const there = [finding({ requirement: 'same' }), finding({ requirement: 'changed', places: [at('a'), at('b')] }), finding({ requirement: 'new' })];
    const groups = together(differences(here, there));
    expect(groups.map((g) => [g.requirement, g.here, g.there, g.places.length])).toEqual([['changed', 'met', 'required', 2], ['new', null, 'required', 1]]);
  });
});

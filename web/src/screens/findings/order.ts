// Which findings bite when, which come first, and what does another edition decide otherwise?
// Source: two `check` answers of the same job. Verdicts are the engine's; here they are only set side by side.

export type Bite = 'signing' | 'cut-over' | 'inspection';
export const BITES: readonly Bite[] = ['signing', 'cut-over', 'inspection'];

export interface PlaceOf {
  kind: string;
  id?: string | null | undefined;
}

export interface FindingOf {
  requirement: string;
  title: string;
  verdict: string;
  missing: boolean;
  work: boolean;
  bites: string;
  danger: number;
  section?: { section: string } | null | undefined;
  places: { place: PlaceOf }[];
}

export type Standing = 'missing' | 'cannot_tell' | 'work' | 'met' | 'not_required';

/** What a finding means for the person who reads it. */
export function standing(finding: FindingOf): Standing {
  if (finding.verdict.startsWith('cannot')) return 'cannot_tell';
  if (finding.verdict === 'met') return 'met';
  if (finding.verdict.startsWith('not')) return 'not_required';
  return finding.work ? 'work' : 'missing';
}

const ORDER: readonly Standing[] = ['missing', 'cannot_tell', 'work', 'met', 'not_required'];

/** Findings that bite at one moment: what is missing first, then the dangerous. */
export function biting<T extends FindingOf>(findings: readonly T[], bite: Bite): T[] {
  return findings
    .filter((finding) => finding.bites === bite)
    .sort((a, b) => ORDER.indexOf(standing(a)) - ORDER.indexOf(standing(b)) || b.danger - a.danger);
}

export interface Difference {
  requirement: string;
  title: string;
  place: PlaceOf;
  here: string | null;
  there: string | null;
  sectionHere: string;
  sectionThere: string;
}

/** Every requirement at every place whose verdict differs; `null` where an answer does not speak of it. */
export function differences(here: readonly FindingOf[], there: readonly FindingOf[]): Difference[] {
  const first = byPlace(here);
  const second = byPlace(there);
  const all: Difference[] = [];
  for (const key of new Set([...first.keys(), ...second.keys()])) {
    const a = first.get(key);
    const b = second.get(key);
    const known = a ?? b;
    if (!known || a?.finding.verdict === b?.finding.verdict) continue;
    all.push({
      requirement: known.finding.requirement,
      title: known.finding.title,
      place: known.place,
      here: a?.finding.verdict ?? null,
      there: b?.finding.verdict ?? null,
      sectionHere: a?.finding.section?.section ?? '',
      sectionThere: b?.finding.section?.section ?? '',
    });
  }
  return all;
}

function byPlace(findings: readonly FindingOf[]): Map<string, { finding: FindingOf; place: PlaceOf }> {
  const all = new Map<string, { finding: FindingOf; place: PlaceOf }>();
  for (const finding of findings) {
    for (const { place } of finding.places) {
      all.set(`${finding.requirement} ${place.kind} ${place.id ?? ''}`, { finding, place });
    }
  }
  return all;
}

export interface DifferenceGroup extends Omit<Difference, 'place'> {
  places: PlaceOf[];
}

/** Differences that say the same of several places, as one. */
export function together(all: readonly Difference[]): DifferenceGroup[] {
  const groups = new Map<string, DifferenceGroup>();
  for (const { place, ...rest } of all) {
    const key = `${rest.requirement} ${rest.here} ${rest.there}`;
    const group = groups.get(key) ?? { ...rest, places: [] };
    group.places.push(place);
    groups.set(key, group);
  }
  return [...groups.values()];
}

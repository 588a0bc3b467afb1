// How a place of the job is called on a screen.
import { t, word } from '../../words/words';

export interface Place {
  kind: string;
  id?: string | null | undefined;
}

export function placeName(place: Place): string {
  if (place.kind === 'job' || !place.id) return place.kind === 'job' ? t('place.job') : word('place.kind', place.kind);
  return `${word('place.kind', place.kind)} ${place.id}`;
}

/** Names of many places: those of one kind are told together. */
export function placeNames(places: readonly Place[]): string {
  const kinds = new Map<string, string[]>();
  for (const place of places) {
    const of = kinds.get(place.kind) ?? [];
    if (place.id) of.push(place.id);
    kinds.set(place.kind, of);
  }
  return [...kinds].map(([kind, ids]) => (ids.length === 0 ? placeName({ kind }) : `${word('place.kind', kind)} ${ids.join(', ')}`)).join('; ');
}

// Which of several things a screen shows is kept as long as the thing exists.

/** The chosen name where it is still among `all`, else the first that `wanted` likes, else the first. */
export function standing(all: readonly string[], chosen: string | null, wanted: (name: string) => boolean = () => false): string | null {
  if (chosen !== null && all.includes(chosen)) return chosen;
  return all.find(wanted) ?? all[0] ?? null;
}

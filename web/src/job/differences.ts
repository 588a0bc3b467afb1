// The lines in which two texts differ, laid side by side; equal lines are left out. Longest common run of lines, by the plain table.
export type Row = { mine: string | null; theirs: string | null };

const MOST_CELLS = 4_000_000;

export function differences(mine: string, theirs: string): Row[] {
  const a = mine.split('\n');
  const b = theirs.split('\n');
  let from = 0;
  while (from < a.length && from < b.length && a[from] === b[from]) from += 1;
  let back = 0;
  while (back < a.length - from && back < b.length - from && a[a.length - 1 - back] === b[b.length - 1 - back]) back += 1;
  const left = a.slice(from, a.length - back);
  const right = b.slice(from, b.length - back);
  // Two texts with nothing in common: all of both, rather than a table that fills the memory.
  const same = left.length * right.length > MOST_CELLS ? [] : common(left, right);
  const rows: Row[] = [];
  let i = 0;
  let j = 0;
  for (const [x, y] of [...same, [left.length, right.length] as const]) {
    pair(left.slice(i, x), right.slice(j, y), rows);
    i = x + 1;
    j = y + 1;
  }
  return rows;
}

function pair(left: string[], right: string[], rows: Row[]): void {
  for (let n = 0; n < Math.max(left.length, right.length); n += 1) rows.push({ mine: left[n] ?? null, theirs: right[n] ?? null });
}

function common(left: string[], right: string[]): (readonly [number, number])[] {
  const width = right.length + 1;
  const longest = new Uint32Array((left.length + 1) * width);
  for (let i = left.length - 1; i >= 0; i -= 1) {
    for (let j = right.length - 1; j >= 0; j -= 1) {
      longest[i * width + j] =
        left[i] === right[j] ? (longest[(i + 1) * width + j + 1] ?? 0) + 1 : Math.max(longest[(i + 1) * width + j] ?? 0, longest[i * width + j + 1] ?? 0);
    }
  }
  const pairs: (readonly [number, number])[] = [];
  let i = 0;
  let j = 0;
  while (i < left.length && j < right.length) {
    if (left[i] === right[j]) {
      pairs.push([i, j]);
      i += 1;
      j += 1;
    } else if ((longest[(i + 1) * width + j] ?? 0) >= (longest[i * width + j + 1] ?? 0)) i += 1;
    else j += 1;
  }
  return pairs;
}

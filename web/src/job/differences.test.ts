import { expect, test } from 'vitest';
import { differences } from './differences';

test('only the lines that differ are shown, side by side', () => {
  expect(differences('a\nb\nc\nd', 'a\nB\nc\nd\ne')).toEqual([{ mine: 'b', theirs: 'B' }, { mine: null, theirs: 'e' }]);
});

test('no line of either text is dropped', () => {
  let seed = 7;
  const random = (most: number) => (seed = (seed * 48271) % 2147483647) % most;
  for (let round = 0; round < 200; round += 1) {
    const text = () => Array.from({ length: random(12) }, () => 'abcd'[random(4)]).join('\n');
    const [mine, theirs] = [text(), text()];
    const rows = differences(mine, theirs);
    // What is left out is equal on both sides, so what is shown plus the same rest makes up either text.
    const rest = (whole: string, shown: (string | null)[]) => {
      const lines = whole.split('\n');
      for (const line of shown) if (line !== null) lines.splice(lines.indexOf(line), 1);
      return lines.sort();
    };
    expect(rest(mine, rows.map((r) => r.mine))).toEqual(rest(theirs, rows.map((r) => r.theirs)));
  }
});

// A board of eight spaces as the engine answers it, for tests: odd numbers left, even numbers right, legs A and B from row to row.
import type { SpaceOnFace } from '../../engine/types';

const space = (number: number, column: number, row: number, leg: 'A' | 'B'): SpaceOnFace => ({ number, column, row, leg, tandem_allowed: false, occupants: [] });

export const eight: SpaceOnFace[] = [
  space(1, 0, 0, 'A'), space(3, 0, 1, 'B'), space(5, 0, 2, 'A'), space(7, 0, 3, 'B'),
  space(2, 1, 0, 'A'), space(4, 1, 1, 'B'), space(6, 1, 2, 'A'), space(8, 1, 3, 'B'),
];

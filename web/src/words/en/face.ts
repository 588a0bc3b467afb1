export const face = {
  'face.teach': 'Which circuit goes in which space, so that the legs balance and the fewest wires move.',
} as const;

export const cutover = {
  'cutover.teach': 'The order of work that keeps the house dark for the shortest time, with its safety gates.',
} as const;

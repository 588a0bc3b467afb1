export const move = {
  'move.teach': 'Where along the wall the new panel costs least, and what each inch brings with it.',
} as const;

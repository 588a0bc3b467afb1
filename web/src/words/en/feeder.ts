export const feeder = {
  'feeder.teach': 'Whether each feeder carries what hangs on it, and the smallest changes that would make it.',
} as const;

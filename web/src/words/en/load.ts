export const load = {
  'load.teach': 'What the house draws, by each method the edition allows, line by line.',
} as const;

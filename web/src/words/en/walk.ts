export const walk = {
  'walk.teach': 'Build the house as you walk it: boards, feeders, circuits. What you cannot see stays unknown and becomes a question.',
} as const;

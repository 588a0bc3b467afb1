// The job's places, in the order of the work.
export const STAGES = ['walk-through', 'load', 'feeder', 'face', 'move', 'findings', 'price', 'papers', 'cut-over', 'proof', 'hand-over'] as const;
export type StageName = (typeof STAGES)[number];

export function isStage(word: string): word is StageName {
  return (STAGES as readonly string[]).includes(word);
}

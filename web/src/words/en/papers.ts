export const papers = {
  'papers.teach': 'Every paper comes from the same job, so no two can disagree.',
} as const;

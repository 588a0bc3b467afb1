export const price = {
  'price.teach': 'What the job costs and why, as a range until the open questions are answered.',
} as const;

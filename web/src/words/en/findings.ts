export const findings = {
  'findings.teach': 'What the adopted edition makes you do because of this change, and when it bites.',
} as const;

// A job as this device keeps it: its text, what the server last had, and what still has to go there.
import type { Edit } from '../engine/door';

export type Price = { low: number; high: number };

/** What a list shows of a job. */
export type Card = {
  id: string;
  title: string;
  address: string;
  customer: string;
  stage: string;
  next_date: string | null;
  price: Price | null;
  updated_at: number;
};

/** A version of the server's. */
export type Version = { revision: number; text: string };

/** A change that has not reached the server; without edits where it was a step back or forward in the history. */
export type Pending = { what: string; edits: Edit[] | null };

export type Kept = Card & {
  text: string;
  /** Counts the changes of the text on this device; tells two tabs apart. */
  seq: number;
  /** What the server had when the two were last equal; null for a job it never saw. */
  base: Version | null;
  /** Something here has not reached the server. */
  waiting: boolean;
  pending: Pending[];
  conflict: (Version & { by: string; at: number }) | null;
  refused: string | null;
  /** The steps of the history on this device by name, and which of them the text is. */
  steps: string[];
  step: number;
};

const MOST_STEPS = 400;

/** The oldest step whose text is still kept on this device. */
export const firstStep = (kept: Kept): number => Math.max(0, kept.steps.length - MOST_STEPS);

/** What the head of the app says about the saving of a job. */
export type Saving = 'here' | 'waiting' | 'sending' | 'saved' | 'conflict' | 'refused';

export function saving(kept: Kept, reachable: boolean, sending: boolean): Saving {
  if (kept.conflict) return 'conflict';
  if (kept.refused !== null) return 'refused';
  if (!kept.waiting) return 'saved';
  if (!reachable) return 'waiting';
  return sending ? 'sending' : 'here';
}

/** The server's answer to a save, laid into what is kept now: edits made meanwhile go on waiting. */
export function saved(kept: Kept, sent: { text: string; seq: number; pending: number }, revision: number): Kept {
  const same = kept.seq === sent.seq;
  return {
    ...kept,
    base: { revision, text: sent.text },
    waiting: !same,
    pending: same ? [] : kept.pending.slice(sent.pending),
    conflict: null,
    refused: null,
  };
}

/** The server has a newer version than `base`. Taken as it is when nothing waits here; else both are shown. */
export function met(kept: Kept, theirs: Version & { by: string; at: number }): Kept {
  if (kept.text === theirs.text) {
    return { ...kept, base: { revision: theirs.revision, text: theirs.text }, waiting: false, pending: [], conflict: null, refused: null };
  }
  if (kept.waiting) return { ...kept, conflict: theirs };
  return { ...kept, base: { revision: theirs.revision, text: theirs.text } };
}

/** All edits that wait, in order; null when some change here was no edit, so that they cannot be laid over another text. */
export function editsThatWait(kept: Kept): Edit[] | null {
  if (kept.pending.length === 0) return null;
  const all: Edit[] = [];
  for (const each of kept.pending) {
    if (each.edits === null) return null;
    all.push(...each.edits);
  }
  return all;
}

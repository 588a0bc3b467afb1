// Stands here until the types are generated from the engine's own; then this file is replaced whole.
/* eslint-disable @typescript-eslint/no-explicit-any */
export type Question = { command: string; job?: string; [entry: string]: unknown };
export type Answer = { command: string; [entry: string]: any };

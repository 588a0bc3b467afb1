// Which component shows which place. Each is fetched when it is first needed; the service worker has all of them beforehand.
import type { Component } from 'svelte';
import type { StageName } from './stages';

type Screen = () => Promise<{ default: Component }>;

export const JOBS: Screen = () => import('./screens/jobs/Jobs.svelte');
export const NEW_JOB: Screen = () => import('./screens/new-job/NewJob.svelte');
export const STAGE_SCREENS: Record<StageName, Screen> = {
  'walk-through': () => import('./screens/walk-through/WalkThrough.svelte'),
  load: () => import('./screens/load/Load.svelte'),
  feeder: () => import('./screens/feeder/Feeder.svelte'),
  face: () => import('./screens/face/Face.svelte'),
  move: () => import('./screens/move/Move.svelte'),
  findings: () => import('./screens/findings/Findings.svelte'),
  price: () => import('./screens/price/Price.svelte'),
  papers: () => import('./screens/papers/Papers.svelte'),
  'cut-over': () => import('./screens/cutover/CutOver.svelte'),
  proof: () => import('./screens/proof/Proof.svelte'),
  'hand-over': () => import('./screens/hand-over/HandOver.svelte'),
};

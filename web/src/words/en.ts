// The English catalogue: one section per screen, so that two people seldom touch one file.
import { jobs } from './en/jobs';
import { papers } from './en/papers';
import { parts } from './en/parts';
import { shell } from './en/shell';
import { walk } from './en/walk';
import { load } from './en/load';
import { feeder } from './en/feeder';
import { face } from './en/face';
import { move } from './en/move';
import { findings } from './en/findings';
import { price } from './en/price';
import { cutover } from './en/cutover';
import { deciding } from './en/deciding';

export const en = {
  ...shell,
  ...parts,
  ...deciding,
  ...jobs,
  ...walk,
  ...papers,
  ...load,
  ...feeder,
  ...face,
  ...move,
  ...findings,
  ...price,
  ...cutover,
} as const;

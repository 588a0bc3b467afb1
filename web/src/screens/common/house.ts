// What the deciding screens read of a house, as the engine's `read` gives it.
import type { Fact } from '../../job/fact';

export interface Spot {
  wall: string;
  x: number;
  y: number;
}

export interface BoardIn {
  name: string;
  spaces: Fact<number>;
  leg_rows: Fact<string>;
  numbering: 'across' | 'down';
  cabinet: { width: Fact<number>; height: Fact<number> };
  position?: Spot | null;
  devices: Record<string, { kind?: string; spaces: Fact<(string | number)[]>; pinned?: boolean }>;
  change?: string;
  gone?: boolean;
}

export interface CircuitIn {
  serves: string;
  board: string;
  spaces: Fact<string[]>;
  pinned: boolean;
  poles: number;
  amps: Fact<number>;
  home_run?: Spot | null;
  change?: string;
  gone?: boolean;
}

export interface FeederIn {
  from: string;
  to: string;
  breaker: Fact<number>;
  spaces: Fact<number[]>;
  wire: Fact<string>;
  neutral: Fact<string>;
  ground: Fact<string>;
  insulation: Fact<string>;
  method: Fact<string>;
  length: Fact<number>;
  ambient: Fact<number>;
  wires: Fact<number>;
  home_run?: Spot | null;
  change?: string;
  gone?: boolean;
}

export interface LoadIn {
  name: string;
  kind: string;
  va: Fact<number>;
  future?: boolean;
  change?: string;
  gone?: boolean;
}

export interface WallIn {
  from?: { x: number; y: number } | null;
  to?: { x: number; y: number } | null;
  height: Fact<number>;
  clear_depth: Fact<number>;
  back_of?: string | null;
  obstacles: { what: string; from: number; to: number; bottom: number; top?: number | null; stands_out: number; opposite_at: number }[];
  stretches: { from: number; to: number; location: string[]; kept_free?: string | null }[];
}

export interface HouseIn {
  dwelling: { area: Fact<number> };
  boards: Record<string, BoardIn>;
  feeders: Record<string, FeederIn>;
  circuits: Record<string, CircuitIn>;
  loads: Record<string, LoadIn>;
  sources: Record<string, { board: string; spaces: Fact<(string | number)[]> }>;
  walls: Record<string, WallIn>;
}

export interface Read {
  before: HouseIn;
  after: HouseIn;
  choices: Record<string, string[]>;
}

/** What somebody knows, else nothing. */
export function known<T>(fact: Fact<T> | undefined | null): T | null {
  return fact?.known ? fact.is : null;
}

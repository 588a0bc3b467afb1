// The two pictures as the engine's `read` gives them, by the names that the deciding screens use.
import type { Point, ReadAnswer, ReadBoard, ReadHouse, ReadLoad, ReadWall } from '../../engine/types';

export type Read = ReadAnswer;
export type HouseIn = ReadHouse;
export type BoardIn = ReadBoard;
export type LoadIn = ReadLoad;
export type WallIn = ReadWall;
export type Spot = Point;

/** What somebody knows, else nothing. */
export function known<T>(fact: { known: true; is: T } | { known: false } | undefined | null): T | null {
  return fact?.known ? fact.is : null;
}

/**
 * The same mass on the left cell, then on the right one: by how much the cells differ. Whatever both calibrations say, the
 * mass is the same, so the ratio of the readings is the ratio of their errors.
 */

import type { Levels, Side } from './sides-check';

/** A mass counts from this force above what was there before, in newtons. */
export const LOAD_N = 20;
/** Levels that a reading is taken from; ten come in a second. */
export const LEVELS = 20;
/** A load is steady once its levels scatter (1 SD) by at most so much of it. */
const STEADY_SHARE = 0.005;
const STEADY_N = 0.5;
const OTHER_SHARE = 0.2;
const BACK_SHARE = 0.2;

export interface Reading {
  readonly forceN: number;
  /** Scatter of the levels, 1 SD: what the reading itself is uncertain by, at most. */
  readonly scatterN: number;
}

export interface CellsCompare {
  /** The side that the mass is to be put on; absent while it is to be taken off, and at the end. */
  readonly load: Side | undefined;
  readonly restN: Levels | undefined;
  readonly recent: readonly number[];
  readonly readings: Readonly<Partial<Record<Side, Reading>>>;
}

export interface Comparison {
  /** 100 ln(left / right). */
  readonly differencePercent: number;
  readonly differenceUPercent: number;
  /** What `cells.mismatchPercent` is to be: the difference and its own uncertainty together. */
  readonly mismatchPercent: number;
}

export const BEGIN_COMPARE: CellsCompare = { load: 'left', restN: undefined, recent: [], readings: {} };

/** Takes the next pair of levels, in newtons. */
export function stepCompare(now: CellsCompare, levels: Levels): CellsCompare {
  if (comparison(now) !== undefined) return now;
  if (now.restN === undefined) return { ...now, restN: levels };
  const above = { left: levels.left - now.restN.left, right: levels.right - now.restN.right };
  if (now.load === undefined) return takenOff(now, above, levels);
  const other = now.load === 'left' ? above.right : above.left;
  const force = above[now.load];
  if (Math.abs(force) < LOAD_N || Math.abs(other) > OTHER_SHARE * Math.abs(force)) {
    const restN = Math.abs(force) < LOAD_N / 4 ? levels : now.restN;
    return { ...now, recent: [], restN };
  }
  const recent = [...now.recent, force].slice(-LEVELS);
  if (recent.length < LEVELS) return { ...now, recent };
  const reading = readingOf(recent);
  if (reading.scatterN > Math.max(STEADY_N, STEADY_SHARE * Math.abs(reading.forceN))) return { ...now, recent };
  return { ...now, load: undefined, recent: [], readings: { ...now.readings, [now.load]: reading } };
}

function takenOff(now: CellsCompare, above: Levels, levels: Levels): CellsCompare {
  const taken = now.readings.left?.forceN ?? LOAD_N;
  if (Math.max(Math.abs(above.left), Math.abs(above.right)) > BACK_SHARE * Math.abs(taken)) return now;
  return { ...now, load: 'right', restN: levels };
}

function readingOf(values: readonly number[]): Reading {
  const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
  const squares = values.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  return { forceN: mean, scatterN: Math.sqrt(squares / (values.length - 1)) };
}

/** Returns the result once both readings are there; absent too where they have opposite signs. */
export function comparison(now: CellsCompare): Comparison | undefined {
  const { left, right } = now.readings;
  if (left === undefined || right === undefined) return undefined;
  const difference = 100 * Math.log(Math.abs(left.forceN / right.forceN));
  const u = 100 * Math.hypot(left.scatterN / left.forceN, right.scatterN / right.forceN);
  return { differencePercent: difference, differenceUPercent: u, mismatchPercent: Math.hypot(difference, u) };
}

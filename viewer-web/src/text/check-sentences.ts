/** What the quick check of a cell says. */

import { decimalsFor, withUnit, writeFixed, writeSigned } from '../format/quantity';
import type { CheckState, Overload, QuickCheck } from '../live/check-api';
import { loadText } from './guide-sentences';

export const checkWords = {
  title: 'Quick check before a session',
  lead: 'The empty cell, then one known load of at least half of what you will measure: whether the cell still shows what its calibration says.',
  load: (unit: string): string => `The load / ${unit}`,
  begin: 'Check this cell',
  by: 'Who checks',
  empty: 'Take everything off the cell.',
  put: (load: number, unit: string): string => `Put ${loadText(load, unit)} on.`,
  take: 'Take the reading',
  cancel: 'Stop the check',
  earlier: 'Earlier checks',
  overloads: 'Overloads of this cell',
  noOverloads: 'None seen by this station.',
  last: 'last quick check',
  never: 'none yet',
} as const;

/** Warnings that are also said in the middle of the page: what changes a result. */
const SAID_ALOUD: readonly string[] = ['leftLimits', 'calibrationOver', 'overloadedSince'];

/** What a check found, after its date. */
export function checkText(check: QuickCheck): string {
  const u = check.limitN / 2;
  const difference = writeSigned({ value: check.differenceN, standardUncertainty: u, unit: 'N' });
  const limit = withUnit(writeFixed(check.limitN, decimalsFor(u)), 'N');
  const verdict = check.holds ? 'within its limit of' : 'beyond its limit of';
  return `${check.day}: ${loadText(check.load, check.unit)} shows ${difference} off, ${verdict} ${limit}`;
}

/** What the last check found, in short. */
export function lastCheckText(state: CheckState | undefined): string {
  const last = state?.checks[0];
  if (last === undefined) return checkWords.never;
  return `${last.day}, ${last.holds ? 'within its limit' : 'beyond its limit'}`;
}

export function overloadText(overload: Overload): string {
  const least = overload.atLeast ? 'at least ' : '';
  const share = withUnit(writeFixed(100 * overload.shareOfRated, 0), '%');
  const peak = withUnit(writeFixed(overload.peakN, 0), 'N');
  const recording = overload.recording === undefined ? '' : `, recording ${overload.recording}`;
  return `${overload.day}: ${least}${peak}, ${share} of the rated load${recording}`;
}

/** What is said about a cell in the middle of the page; empty where nothing is. */
export function aloud(name: string, state: CheckState): readonly string[] {
  return state.warnings.filter((one) => SAID_ALOUD.includes(one.id)).map((one) => `${name}: ${one.text}`);
}

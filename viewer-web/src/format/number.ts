/** Numbers that are no measurements: counts, sizes, rates, and the steady figures. */

import { MINUS, type Quantity, withUnit, writeFixed } from './quantity';

const NARROW_NO_BREAK_SPACE = '\u202f';
const BYTE_STEPS = ['B', 'kB', 'MB', 'GB', 'TB'];

/** A whole number in groups of three: 12 345. */
export function writeCount(value: number): string {
  const digits = Math.round(Math.abs(value)).toString();
  const grouped = digits.replace(/\B(?=(\d{3})+$)/g, NARROW_NO_BREAK_SPACE);
  return value <= -0.5 ? MINUS + grouped : grouped;
}

/** A size in powers of 1000 (SI): 1.4 MB. */
export function writeBytes(bytes: number): string {
  let step = 0;
  let value = bytes;
  while (value >= 999.5 && step < BYTE_STEPS.length - 1) {
    value /= 1000;
    step++;
  }
  return withUnit(step === 0 ? String(value) : writeFixed(value, value < 9.95 ? 1 : 0), BYTE_STEPS[step] ?? 'B');
}

/** A figure of health with a sensible number of digits: 0.42 ms, 12.3 ms, 1000 Hz. */
export function writePlain(value: number, unit: string): string {
  const size = Math.abs(value);
  const decimals = size < 0.995 ? 2 : size < 99.95 ? 1 : 0;
  return withUnit(writeFixed(value, decimals), unit);
}

/** Seconds as milliseconds or microseconds, whichever reads better. */
export function writeShortTime(seconds: number): string {
  return Math.abs(seconds) < 0.0001 ? writePlain(seconds * 1e6, '\u00b5s') : writePlain(seconds * 1e3, 'ms');
}

/** The parts of a steady figure, each for a slot of fixed width. */
export interface Figure {
  readonly value: string;
  readonly uncertainty: string;
  readonly unit: string;
}

/**
 * The large figure changes ten times a second, so its number of decimals must not change with it: always one decimal,
 * the uncertainty rounded up to one decimal and never below 0.1. (Finished results have two significant digits.)
 */
export function steadyFigure(quantity: Quantity & { readonly standardUncertainty: number }): Figure {
  const up = Math.max(1, Math.ceil(quantity.standardUncertainty * 10 - 1e-9));
  return { value: writeFixed(quantity.value, 1), uncertainty: `(${(up / 10).toFixed(1)})`, unit: quantity.unit };
}

/** A per cent value: 87 %. */
export function writePercent(value: number): string {
  return withUnit(writeFixed(value, 0), '%');
}

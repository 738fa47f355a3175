/** Waits between attempts to reach the station: half a second, doubling to eight, spread so that viewers do not march. */

const FIRST_MS = 500;
const LONGEST_MS = 8_000;
const SPREAD = 0.2;

/**
 * @param attempt failed attempts so far, from 1
 * @param random a number in [0, 1)
 * @returns the wait in milliseconds, within 20 % of the nominal one
 */
export function backOffMs(attempt: number, random: number): number {
  const nominal = Math.min(LONGEST_MS, FIRST_MS * 2 ** Math.min(attempt - 1, 16));
  return nominal * (1 - SPREAD + 2 * SPREAD * random);
}

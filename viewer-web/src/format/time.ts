/** Times of day, session times and durations for people. */

import { withUnit, writeFixed } from './quantity';

/** Time of day, 24 hours: 14:05:12. */
export function writeClock(epochMs: number): string {
  const time = new Date(epochMs);
  return [time.getHours(), time.getMinutes(), time.getSeconds()].map(twoDigits).join(':');
}

/** Time within a session or a recording: 0:05, 12:34, 1:02:03; with tenths where asked for. */
export function writeElapsed(seconds: number, tenths = false): string {
  const sign = seconds < 0 ? '\u2212' : '';
  const total = tenths ? Math.floor(Math.abs(seconds) * 10 + 1e-6) / 10 : Math.floor(Math.abs(seconds));
  const hours = Math.floor(total / 3600);
  const minutes = Math.floor(total / 60) % 60;
  const rest = total - hours * 3600 - minutes * 60;
  const restText = tenths ? rest.toFixed(1).padStart(4, '0') : twoDigits(rest);
  const lead = hours > 0 ? `${hours}:${twoDigits(minutes)}` : String(minutes);
  return `${sign}${lead}:${restText}`;
}

/** A running or rough duration with one decimal: 3.2 s. Measured durations are quantities and carry an uncertainty. */
export function writeSeconds(seconds: number): string {
  return withUnit(writeFixed(seconds, 1), 's');
}

function twoDigits(value: number): string {
  return String(value).padStart(2, '0');
}

/** What the alignment by a knock has come to, in words. */

import type { Quantity } from '../format/quantity';
import { writeQuantity } from '../format/quantity';
import type { TapEvent } from '../live/events';
import { words } from './words';

/** The step that the person is at. */
export function tapSentence(tap: TapEvent | undefined): string {
  switch (tap?.state) {
    case 'listening':
      return words.tapListening;
    case 'measured':
      return (tap.count ?? 1) === 1 ? `Measured. ${words.tapIdle}` : 'Measured.';
    case 'refused':
      return `Not measured. ${sentence(tap.reason)}`;
    case 'lost':
      return `The alignment is lost: ${tap.reason ?? words.notKnown}`;
    default:
      return words.tapIdle;
  }
}

/** Milliseconds with two significant digits: an uncertainty has no more. */
export function writeMs(seconds: number): string {
  const ms = 1000 * seconds;
  const digits = ms > 0 ? Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(ms)))) : 0;
  return `${ms.toFixed(digits)}\u00a0ms`;
}

/** An offset in milliseconds, its uncertainty in brackets. */
export function writeOffsetMs(offset: Quantity): string {
  return writeQuantity({
    value: 1000 * offset.value,
    standardUncertainty: 1000 * (offset.standardUncertainty ?? Number.NaN),
    unit: 'ms',
  });
}

function sentence(reason: string | undefined): string {
  const text = reason ?? words.notKnown;
  return text.charAt(0).toUpperCase() + text.slice(1);
}

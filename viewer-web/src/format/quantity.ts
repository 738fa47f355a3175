/**
 * How a measured value is written: 512.3(1.1) N.
 *
 * The standard uncertainty has two significant digits and stands in the unit of the value (JCGM 100:2008, 7.2.2 and
 * 7.2.6). Value and uncertainty are rounded from their exact binary value, ties away from zero. vectors/rounding.json
 * holds the cases; every other program of the station that writes values passes the same file.
 */

/** A measured value; `standardUncertainty` is the device's part only. */
export interface Quantity {
  readonly value: number;
  readonly standardUncertainty?: number;
  readonly unit: string;
}

export const NO_BREAK_SPACE = '\u00a0';
export const MINUS = '\u2212';

const MAX_DECIMALS = 9;

/** True where the quantity may be shown as a measured value: it is finite and says how well it is known. */
export function isKnown(quantity: Quantity): quantity is Quantity & { standardUncertainty: number } {
  const u = quantity.standardUncertainty;
  return Number.isFinite(quantity.value) && u !== undefined && Number.isFinite(u) && u > 0;
}

/** Writes `512.3(1.1) N`; refuses a value without uncertainty, because no such number may be shown. */
export function writeQuantity(quantity: Quantity): string {
  if (!isKnown(quantity)) {
    throw new RangeError(
      `no uncertainty: value=${quantity.value}, standardUncertainty=${quantity.standardUncertainty}`,
    );
  }
  return withUnit(writeValue(quantity.value, quantity.standardUncertainty), quantity.unit);
}

/** The same with a plus sign where the value is positive: for signed indices such as an asymmetry. */
export function writeSigned(quantity: Quantity): string {
  const text = writeQuantity(quantity);
  return text.startsWith(MINUS) || /^0(\.0*)?\(/.test(text) ? text : `+${text}`;
}

/** Puts a unit after a number with a space that does not break; nothing where there is no unit. */
export function withUnit(text: string, unit: string): string {
  return unit === '' ? text : text + NO_BREAK_SPACE + unit;
}

/** Writes a number with fixed decimals, a true minus sign and no sign on zero. */
export function writeFixed(value: number, decimals: number): string {
  const text = decimals < 0 ? roundToPowerOfTen(Math.abs(value), -decimals) : Math.abs(value).toFixed(decimals);
  return value < 0 && /[1-9]/.test(text) ? MINUS + text : text;
}

function writeValue(value: number, u: number): string {
  const decimals = decimalsFor(u);
  const smallest = 10 ** -MAX_DECIMALS;
  const shownU = decimals === MAX_DECIMALS ? Math.max(u, smallest) : u;
  return `${writeFixed(value, decimals)}(${writeFixed(shownU, decimals)})`;
}

/** Decimal places that show two significant digits of `u`; negative where tens or hundreds are rounded away. */
export function decimalsFor(u: number): number {
  const exponent = Number(u.toExponential(1).split('e')[1]);
  return Math.min(MAX_DECIMALS, 1 - exponent);
}

/** Rounds a positive number to a power of ten in whole numbers: a division by ten would round twice. */
function roundToPowerOfTen(value: number, power: number): string {
  const step = 10n ** BigInt(power);
  const whole = BigInt(Math.trunc(value));
  const up = (whole % step) * 2n >= step;
  return ((whole / step + (up ? 1n : 0n)) * step).toString();
}

/**
 * Which cell is which: one is pressed at a time, and the other must not move. Catches cells that were mounted or named the
 * wrong way round, which no figure shows afterwards.
 */

/** A push counts from this force above what was there before, in newtons. */
export const PUSH_N = 20;
/** The other cell may follow by this share: a common frame gives a little. */
const FOLLOWS = 0.3;
/** After a push both must be back within this share of it. */
const BACK = 0.4;
/** A push is judged by its height once it has lasted for so many levels, of which ten come in a second. */
const LEVELS = 5;

export type Side = 'left' | 'right';
export type Verdict = 'right way round' | 'swapped' | 'both move';

export interface SidesCheck {
  /** The side that is to be pressed; absent while both are to be let go, and at the end. */
  readonly press: Side | undefined;
  readonly verdict: Verdict | undefined;
  /** Sides whose push was seen where it belongs. */
  readonly seen: readonly Side[];
  readonly restN: Readonly<Record<Side, number>> | undefined;
  readonly pushN: number;
  readonly lasted: number;
}

export type Levels = Readonly<Record<Side, number>>;

export const BEGIN: SidesCheck = {
  press: 'left',
  verdict: undefined,
  seen: [],
  restN: undefined,
  pushN: PUSH_N,
  lasted: 0,
};

/** Takes the next pair of levels, in newtons. */
export function step(check: SidesCheck, levels: Levels): SidesCheck {
  if (check.verdict !== undefined) return check;
  if (check.restN === undefined) return { ...check, restN: levels };
  const left = Math.abs(levels.left - check.restN.left);
  const right = Math.abs(levels.right - check.restN.right);
  if (check.press === undefined) return letGo(check, Math.max(left, right), levels);
  const [higher, lower] = left > right ? [left, right] : [right, left];
  if (higher < PUSH_N) return { ...check, lasted: 0, restN: follow(check.restN, levels) };
  if (check.lasted < LEVELS) return { ...check, lasted: check.lasted + 1 };
  if (lower > FOLLOWS * higher) return { ...check, press: undefined, verdict: 'both move' };
  const pressed: Side = left > right ? 'left' : 'right';
  if (pressed !== check.press) return { ...check, press: undefined, verdict: 'swapped' };
  return { ...check, press: undefined, seen: [...check.seen, pressed], pushN: higher, lasted: 0 };
}

function letGo(check: SidesCheck, highest: number, levels: Levels): SidesCheck {
  if (highest > Math.max(PUSH_N / 2, BACK * check.pushN)) return check;
  if (check.seen.length === 2) return { ...check, verdict: 'right way round' };
  return { ...check, press: 'right', restN: levels };
}

/** Rest drifts, and a limb is laid down: what is there before a push follows slowly. */
function follow(rest: Levels, levels: Levels): Levels {
  const near = (from: number, to: number): number => from + 0.2 * (to - from);
  return { left: near(rest.left, levels.left), right: near(rest.right, levels.right) };
}

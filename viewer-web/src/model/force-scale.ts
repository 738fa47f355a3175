/**
 * The newton axis: it grows at once when the force needs it, and shrinks only after a minute without need, so that the
 * same height means the same force from one effort to the next.
 */

const STEPS = [1, 1.5, 2, 3, 4, 5, 6, 8];
const HEADROOM = 1.08;
const BELOW_ZERO = 0.05;
const SHRINK_AFTER_S = 60;

export interface ForceRange {
  readonly minN: number;
  readonly maxN: number;
}

export class ForceScale {
  private readonly above = new Bound();
  private readonly below = new Bound();

  constructor(private readonly leastN: number) {}

  /**
   * @param lowN least force in view
   * @param highN greatest force in view, a target included
   * @param perfS the browser's time, for the shrinking only
   */
  update(lowN: number, highN: number, perfS: number): ForceRange {
    const maxN = this.above.update(Math.max(this.leastN, niceAbove(highN * HEADROOM)), perfS);
    const marginN = maxN * BELOW_ZERO;
    const belowN = this.below.update(-lowN > marginN ? niceAbove(-lowN * HEADROOM) : 0, perfS);
    return { minN: -Math.max(marginN, belowN), maxN };
  }
}

class Bound {
  private value = 0;
  private neededS = Number.NEGATIVE_INFINITY;

  update(wanted: number, perfS: number): number {
    if (wanted >= this.value || perfS - this.neededS > SHRINK_AFTER_S) {
      this.value = wanted;
      this.neededS = perfS;
    }
    return this.value;
  }
}

/** The least of 1, 1.5, 2, 3, 4, 5, 6, 8 times a power of ten that is not below the value; 0 for what is not positive. */
export function niceAbove(value: number): number {
  if (!(value > 0)) return 0;
  const power = 10 ** Math.floor(Math.log10(value) + 1e-12);
  const step = STEPS.find((one) => one * power >= value * (1 - 1e-12));
  return (step ?? 10) * power;
}

/** Gridlines: multiples of 1, 2 or 5 times a power of ten, about as many as asked for. */
export function gridSteps(min: number, max: number, about: number): number[] {
  const rough = (max - min) / Math.max(1, about);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((one) => one * power >= rough) ?? 10) * power;
  const lines: number[] = [];
  for (let i = Math.ceil(min / step - 1e-9); i * step <= max + step * 1e-9; i++) lines.push(i === 0 ? 0 : i * step);
  return lines;
}

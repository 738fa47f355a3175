/** Where in the trace the peak of a contraction lies, so that its marker stands on the line. */

import type { TraceRing } from './trace-ring';

const MEAN_S = 0.1;

/**
 * Middle of the 100 ms with the highest mean between two times, in seconds; undefined where the ring does not hold 100 ms
 * without a gap there. Only the place is taken from the trace: the value of a peak is the station's `force.peak`.
 */
export function peakTimeS(ring: TraceRing, fromS: number, toS: number): number | undefined {
  let bestSum = Number.NEGATIVE_INFINITY;
  let bestS: number | undefined;
  const run = new Run();
  for (let block = ring.isEmpty ? ring.endBlock : ring.blockAt(fromS); block < ring.endBlock; block++) {
    const t0S = ring.blockT0S(block);
    const periodS = ring.blockPeriodS(block);
    if (t0S > toS) break;
    if (ring.hasGapBefore(block)) run.clear();
    const length = Math.max(1, Math.round(MEAN_S / periodS));
    for (let i = 0; i < ring.blockCount(block); i++) {
      const timeS = t0S + i * periodS;
      if (timeS < fromS || timeS > toS) continue;
      const sum = run.add(ring.valueAt(block, i), length);
      if (sum !== undefined && sum > bestSum) {
        bestSum = sum;
        bestS = timeS - ((length - 1) * periodS) / 2;
      }
    }
  }
  return bestS;
}

/** A running sum over the last `length` values. */
class Run {
  private values: number[] = [];
  private sum = 0;

  add(value: number, length: number): number | undefined {
    this.values.push(value);
    this.sum += value;
    while (this.values.length > length) this.sum -= this.values.shift() ?? 0;
    return this.values.length === length ? this.sum : undefined;
  }

  clear(): void {
    this.values = [];
    this.sum = 0;
  }
}

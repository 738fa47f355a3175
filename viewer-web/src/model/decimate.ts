/**
 * From samples to what a canvas can show: at most two points per pixel column, the extremes in the order in which they
 * occurred. Columns are cut at whole multiples of their length on the time axis, not from the left edge of the view, so
 * that a scrolling trace keeps its shape and does not shimmer.
 */

import type { TraceRing } from './trace-ring';

/** Points of one trace, reused from frame to frame: time, force, and whether the line breaks before the point. */
export class TracePoints {
  length = 0;
  timeS = new Float64Array(4096);
  forceN = new Float32Array(4096);
  breakBefore = new Uint8Array(4096);

  add(timeS: number, forceN: number, breakBefore: boolean): void {
    if (this.length === this.timeS.length) this.grow();
    this.timeS[this.length] = timeS;
    this.forceN[this.length] = forceN;
    this.breakBefore[this.length] = breakBefore ? 1 : 0;
    this.length++;
  }

  private grow(): void {
    const times = new Float64Array(this.length * 2);
    const forces = new Float32Array(this.length * 2);
    const breaks = new Uint8Array(this.length * 2);
    times.set(this.timeS);
    forces.set(this.forceN);
    breaks.set(this.breakBefore);
    this.timeS = times;
    this.forceN = forces;
    this.breakBefore = breaks;
  }
}

export interface DecimateOptions {
  readonly fromS: number;
  readonly toS: number;
  /** Length of one pixel column on the time axis. */
  readonly columnS: number;
  /** Extremes closer than this are one point. */
  readonly flatN: number;
}

/** Fills `out` with the points of the ring between two times, one point beyond either end included. */
export function decimate(ring: TraceRing, options: DecimateOptions, out: TracePoints): void {
  out.length = 0;
  if (ring.isEmpty || !(options.toS > options.fromS)) return;
  const columns = new Columns(options, out);
  const firstBlock = Math.max(ring.firstBlock, ring.blockAt(options.fromS));
  for (let block = firstBlock; block < ring.endBlock && ring.blockT0S(block) <= options.toS; block++) {
    addBlock(ring, block, options, columns, block > firstBlock && ring.hasGapBefore(block));
  }
  columns.flush();
}

function addBlock(ring: TraceRing, block: number, view: DecimateOptions, columns: Columns, gap: boolean): void {
  const t0S = ring.blockT0S(block);
  const periodS = ring.blockPeriodS(block);
  const count = ring.blockCount(block);
  const from = Math.min(count, Math.max(0, Math.floor((view.fromS - t0S) / periodS)));
  const to = Math.min(count, Math.ceil((view.toS - t0S) / periodS) + 1);
  const exact = view.columnS < 2 * periodS;
  for (let i = from; i < to; i++) {
    columns.add(t0S + i * periodS, ring.valueAt(block, i), gap && i === from, exact);
  }
}

/** Collects the extremes of the column under way. */
class Columns {
  private column = Number.NaN;
  private minN = 0;
  private maxN = 0;
  private minS = 0;
  private maxS = 0;
  private breakBefore = false;
  private open = false;

  constructor(
    private readonly view: DecimateOptions,
    private readonly out: TracePoints,
  ) {}

  add(timeS: number, forceN: number, gap: boolean, exact: boolean): void {
    if (exact) {
      this.flush();
      this.out.add(timeS, forceN, gap);
      return;
    }
    const column = Math.floor(timeS / this.view.columnS);
    if (gap || column !== this.column || !this.open) {
      this.flush();
      this.begin(column, timeS, forceN, gap);
    } else if (forceN < this.minN) {
      this.minN = forceN;
      this.minS = timeS;
    } else if (forceN > this.maxN) {
      this.maxN = forceN;
      this.maxS = timeS;
    }
  }

  flush(): void {
    if (!this.open) return;
    this.open = false;
    const middleS = (this.column + 0.5) * this.view.columnS;
    if (this.maxN - this.minN < this.view.flatN) {
      this.out.add(middleS, (this.minN + this.maxN) / 2, this.breakBefore);
      return;
    }
    const minFirst = this.minS <= this.maxS;
    this.out.add(middleS, minFirst ? this.minN : this.maxN, this.breakBefore);
    this.out.add(middleS, minFirst ? this.maxN : this.minN, false);
  }

  private begin(column: number, timeS: number, forceN: number, gap: boolean): void {
    this.column = column;
    this.minN = forceN;
    this.maxN = forceN;
    this.minS = timeS;
    this.maxS = timeS;
    this.breakBefore = gap;
    this.open = true;
  }
}

/**
 * The last minutes of one channel's trace: values in one ring of float32, block times in another.
 *
 * Sample i of a block lies at `t0S + i * periodS`. Pairs of minimum and maximum (reduced delivery) are kept as two values
 * at half the pair's interval. Where the stream steps over missing samples the block is marked, so that no line is ever
 * drawn across. Time only goes forward: a block that starts before the end of the ring replaces what it overlaps (the
 * station's clock estimate was restarted, or a replay began anew). Nothing is allocated per sample; the oldest blocks
 * give way when either ring is full.
 */

import { KIND_PAIRS } from '../live/parse-blocks';

/** Steps longer than this many periods are gaps (docs/live-protocol.md). */
const GAP_PERIODS = 1.5;

export class TraceRing {
  private readonly values: Float32Array;
  private readonly t0S: Float64Array;
  private readonly periodS: Float64Array;
  private readonly start: Float64Array;
  private readonly count: Uint32Array;
  private readonly gapBefore: Uint8Array;
  private first = 0;
  private next = 0;
  private written = 0;

  /**
   * @param sampleCapacity values kept at most
   * @param blockCapacity blocks kept at most
   */
  constructor(sampleCapacity: number, blockCapacity: number) {
    this.values = new Float32Array(sampleCapacity);
    this.t0S = new Float64Array(blockCapacity);
    this.periodS = new Float64Array(blockCapacity);
    this.start = new Float64Array(blockCapacity);
    this.count = new Uint32Array(blockCapacity);
    this.gapBefore = new Uint8Array(blockCapacity);
  }

  /** Number of the oldest block kept; block numbers only grow. */
  get firstBlock(): number {
    return this.first;
  }

  /** One more than the number of the newest block. */
  get endBlock(): number {
    return this.next;
  }

  get isEmpty(): boolean {
    return this.next === this.first;
  }

  /** Time of the newest sample, in seconds; -Infinity while empty. */
  get lastS(): number {
    if (this.isEmpty) return Number.NEGATIVE_INFINITY;
    const block = this.next - 1;
    return this.blockT0S(block) + (this.blockCount(block) - 1) * this.blockPeriodS(block);
  }

  /** Time of the oldest sample, in seconds; Infinity while empty. */
  get firstS(): number {
    return this.isEmpty ? Number.POSITIVE_INFINITY : this.blockT0S(this.first);
  }

  append(kind: number, t0S: number, periodS: number, values: Float32Array): void {
    if (values.length > this.values.length) return;
    this.dropFrom(t0S);
    const wholePeriodS = periodS;
    const storedPeriodS = kind === KIND_PAIRS ? periodS / 2 : periodS;
    const gap = !this.isEmpty && this.stepFromLastS(t0S, kind) > GAP_PERIODS * wholePeriodS;
    this.makeRoom(values.length);
    const slot = this.next % this.t0S.length;
    this.t0S[slot] = t0S;
    this.periodS[slot] = storedPeriodS;
    this.start[slot] = this.written;
    this.count[slot] = values.length;
    this.gapBefore[slot] = gap ? 1 : 0;
    this.copyIn(values);
    this.next++;
  }

  clear(): void {
    this.first = this.next;
  }

  blockT0S(block: number): number {
    return this.t0S[block % this.t0S.length] ?? Number.NaN;
  }

  blockPeriodS(block: number): number {
    return this.periodS[block % this.periodS.length] ?? Number.NaN;
  }

  blockCount(block: number): number {
    return this.count[block % this.count.length] ?? 0;
  }

  hasGapBefore(block: number): boolean {
    return this.gapBefore[block % this.gapBefore.length] === 1;
  }

  /** Value of sample `i` of a block that is still kept. */
  valueAt(block: number, i: number): number {
    const position = (this.start[block % this.start.length] ?? 0) + i;
    return this.values[position % this.values.length] ?? Number.NaN;
  }

  /** The newest block that starts at or before the time, or the oldest one kept. */
  blockAt(timeS: number): number {
    let low = this.first;
    let high = this.next - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (this.blockT0S(middle) <= timeS) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** For pairs the step is counted from the start of the last pair, as the protocol states it. */
  private stepFromLastS(t0S: number, kind: number): number {
    const block = this.next - 1;
    return t0S - this.lastS + (kind === KIND_PAIRS ? this.blockPeriodS(block) : 0);
  }

  private dropFrom(t0S: number): void {
    while (this.next > this.first && this.blockT0S(this.next - 1) >= t0S) {
      this.next--;
      this.written = this.start[this.next % this.start.length] ?? 0;
    }
  }

  private makeRoom(valueCount: number): void {
    if (this.next - this.first === this.t0S.length) this.first++;
    while (this.first < this.next && this.written + valueCount - this.oldestPosition() > this.values.length)
      this.first++;
  }

  private oldestPosition(): number {
    return this.start[this.first % this.start.length] ?? 0;
  }

  private copyIn(values: Float32Array): void {
    const at = this.written % this.values.length;
    const head = Math.min(values.length, this.values.length - at);
    this.values.set(head === values.length ? values : values.subarray(0, head), at);
    if (head < values.length) this.values.set(values.subarray(head), 0);
    this.written += values.length;
  }
}

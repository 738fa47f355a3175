import { describe, expect, it } from 'vitest';
import { TraceRing } from './trace-ring';

const MS = 0.001;

function ringWith(...starts: number[]): TraceRing {
  const ring = new TraceRing(1000, 100);
  for (const t0S of starts)
    ring.append(
      1,
      t0S,
      MS,
      Float32Array.from({ length: 10 }, (_, i) => t0S + i),
    );
  return ring;
}

function contents(ring: TraceRing): number[] {
  const all: number[] = [];
  for (let block = ring.firstBlock; block < ring.endBlock; block++) {
    for (let i = 0; i < ring.blockCount(block); i++) all.push(ring.valueAt(block, i));
  }
  return all;
}

describe('TraceRing', () => {
  it('should know the times of its ends', () => {
    const ring = ringWith(1, 1.01);
    expect(ring.firstS).toBe(1);
    expect(ring.lastS).toBeCloseTo(1.019, 9);
    expect(new TraceRing(10, 10).lastS).toBe(Number.NEGATIVE_INFINITY);
  });

  it('should mark a gap where more than one and a half periods are stepped over', () => {
    const ring = ringWith(1, 1.01, 1.021, 1.0314);
    expect([0, 1, 2, 3].map((block) => ring.hasGapBefore(block))).toEqual([false, false, true, false]);
  });

  it('should mark gaps between pairs by the interval of a pair', () => {
    const ring = new TraceRing(1000, 100);
    const pairs = new Float32Array(4);
    for (const t0S of [0, 0.02, 0.05]) ring.append(2, t0S, 0.01, pairs);
    expect(ring.blockPeriodS(0)).toBeCloseTo(0.005, 12);
    expect([0, 1, 2].map((block) => ring.hasGapBefore(block))).toEqual([false, false, true]);
  });

  it('should give way at its oldest end when the values run out', () => {
    const ring = new TraceRing(25, 100);
    for (let block = 0; block < 7; block++) {
      ring.append(
        1,
        block / 100,
        MS,
        Float32Array.from({ length: 10 }, (_, i) => block * 10 + i),
      );
    }
    expect(contents(ring)).toEqual(Array.from({ length: 20 }, (_, i) => 50 + i));
  });

  it('should give way at its oldest end when the blocks run out', () => {
    const ring = new TraceRing(1000, 3);
    for (let block = 0; block < 5; block++) ring.append(1, block, MS, Float32Array.of(block));
    expect(contents(ring)).toEqual([2, 3, 4]);
    expect(ring.firstS).toBe(2);
  });

  it('should replace what a block overlaps when time steps back', () => {
    const ring = ringWith(1, 2, 3);
    ring.append(1, 1.5, MS, Float32Array.of(42));
    expect(ring.lastS).toBe(1.5);
    expect(contents(ring)).toEqual([...Array.from({ length: 10 }, (_, i) => 1 + i), 42]);
    expect(ring.hasGapBefore(ring.endBlock - 1)).toBe(true);
  });

  it('should start anew when a replay goes back before everything kept', () => {
    const ring = ringWith(5, 6);
    ring.append(1, 0, MS, Float32Array.of(7));
    expect(contents(ring)).toEqual([7]);
    expect(ring.hasGapBefore(ring.firstBlock)).toBe(false);
  });

  it('should find the block of a time', () => {
    const ring = ringWith(1, 2, 3);
    expect([0, 1, 1.5, 2, 9].map((timeS) => ring.blockAt(timeS))).toEqual([0, 0, 0, 1, 2]);
  });

  it('should be empty after being cleared and take more', () => {
    const ring = ringWith(1, 2);
    ring.clear();
    expect(ring.isEmpty).toBe(true);
    ring.append(1, 1, MS, Float32Array.of(3));
    expect(contents(ring)).toEqual([3]);
  });
});

import { describe, expect, it } from 'vitest';
import { type DecimateOptions, decimate, TracePoints } from './decimate';
import { TraceRing } from './trace-ring';

const MS = 0.001;

function fill(forceN: (i: number) => number, seconds: number, gapAt?: number): TraceRing {
  const ring = new TraceRing(100_000, 10_000);
  for (let block = 0; block < seconds * 100; block++) {
    const late = gapAt !== undefined && block >= gapAt ? 0.05 : 0;
    const values = Float32Array.from({ length: 10 }, (_, i) => forceN(block * 10 + i));
    // Half a period off, so that no sample lies on the border of two columns.
    ring.append(1, block / 100 + late + MS / 2, MS, values);
  }
  return ring;
}

function points(ring: TraceRing, options: Partial<DecimateOptions> = {}) {
  const out = new TracePoints();
  decimate(ring, { fromS: 0, toS: 10, columnS: 0.01, flatN: 0, ...options }, out);
  return Array.from({ length: out.length }, (_, i) => ({
    timeS: out.timeS[i] ?? Number.NaN,
    forceN: out.forceN[i] ?? Number.NaN,
    breakBefore: out.breakBefore[i] === 1,
  }));
}

describe('decimate', () => {
  it('should keep every extreme of every column', () => {
    const noisy = (i: number): number => ((i * 7919) % 101) - 50;
    const ring = fill(noisy, 2);
    const shown = points(ring);
    for (let column = 0; column < 200; column++) {
      const samples = Array.from({ length: 10 }, (_, i) => noisy(column * 10 + i));
      const inColumn = shown.filter((point) => Math.floor(point.timeS / 0.01) === column).map((point) => point.forceN);
      expect(Math.min(...inColumn)).toBe(Math.min(...samples));
      expect(Math.max(...inColumn)).toBe(Math.max(...samples));
    }
    expect(shown.length).toBeLessThanOrEqual(2 * 200 + 2);
  });

  it('should give the extremes in the order in which they occurred', () => {
    const shown = points(
      fill((i) => i, 1),
      { columnS: 0.1 },
    );
    for (let i = 1; i < shown.length; i++) {
      expect(shown[i]?.forceN).toBeGreaterThan(shown[i - 1]?.forceN ?? 0);
    }
    const falling = points(
      fill((i) => -i, 1),
      { columnS: 0.1 },
    );
    expect(falling.slice(0, 3).map((point) => point.forceN)).toEqual([-0, -99, -100]);
  });

  it('should show the same points for the same column however far the view has scrolled', () => {
    const ring = fill((i) => Math.sin(i / 7) * 100, 5);
    const at = (fromS: number) =>
      points(ring, { fromS, toS: fromS + 2 }).filter((point) => point.timeS > 2.1 && point.timeS < 2.5);
    expect(at(1.0034)).toEqual(at(1.05));
  });

  it('should break the line at a gap and nowhere else', () => {
    const shown = points(fill(() => 5, 2, 100));
    const breaks = shown.filter((point) => point.breakBefore);
    expect(breaks).toHaveLength(1);
    expect(breaks[0]?.timeS).toBeCloseTo(1.055, 6);
  });

  it('should break the line inside a column that holds both ends of a gap', () => {
    const shown = points(
      fill((i) => i, 2, 100),
      { columnS: 0.5 },
    );
    expect(shown.filter((point) => point.breakBefore)).toHaveLength(1);
  });

  it('should give every sample its own point and time where there are fewer samples than columns', () => {
    const shown = points(
      fill((i) => i, 1),
      { fromS: 0.1, toS: 0.2, columnS: MS / 2 },
    );
    expect(shown.map((point) => point.forceN)).toEqual(
      Array.from({ length: 102 }, (_, i) => 99 + i).slice(0, shown.length),
    );
    expect(shown[3]?.timeS).toBeCloseTo(0.1025, 9);
  });

  it('should make one point of a column that is flatter than the eye can see', () => {
    expect(
      points(
        fill((i) => (i % 2) * 0.1, 1),
        { flatN: 0.5 },
      ),
    ).toHaveLength(100);
  });

  it('should show nothing outside the data', () => {
    expect(
      points(
        fill(() => 1, 1),
        { fromS: 5, toS: 6 },
      ),
    ).toHaveLength(0);
    expect(points(new TraceRing(10, 10))).toHaveLength(0);
  });
});

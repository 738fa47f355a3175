import { describe, expect, it } from 'vitest';
import { peakTimeS } from './peak-time';
import { TraceRing } from './trace-ring';

function ring(forceN: (timeS: number) => number, gapFromBlock = Number.POSITIVE_INFINITY): TraceRing {
  const all = new TraceRing(100_000, 10_000);
  for (let block = 0; block < 500; block++) {
    const t0S = block / 100 + (block >= gapFromBlock ? 0.02 : 0);
    all.append(
      1,
      t0S,
      0.001,
      Float32Array.from({ length: 10 }, (_, i) => forceN(t0S + i / 1000)),
    );
  }
  return all;
}

describe('peakTimeS', () => {
  it('should find the middle of the highest 100 ms', () => {
    const hill = ring((timeS) => 100 - 40 * (timeS - 2.3) ** 2);
    expect(peakTimeS(hill, 1, 4)).toBeCloseTo(2.3, 2);
  });

  it('should not be led astray by a single high sample', () => {
    const spiked = ring((timeS) => 100 - 40 * (timeS - 2.3) ** 2 + (Math.abs(timeS - 3.5) < 0.0006 ? 150 : 0));
    expect(peakTimeS(spiked, 1, 4)).toBeCloseTo(2.3, 2);
  });

  it('should look between the two times only', () => {
    const rising = ring((timeS) => timeS);
    expect(peakTimeS(rising, 1, 2)).toBeCloseTo(1.95, 2);
  });

  it('should find nothing where 100 ms without a gap are not there', () => {
    expect(
      peakTimeS(
        ring(() => 1),
        1,
        1.05,
      ),
    ).toBeUndefined();
    expect(
      peakTimeS(
        ring(() => 1, 105),
        1,
        1.13,
      ),
    ).toBeUndefined();
    expect(peakTimeS(new TraceRing(10, 10), 0, 1)).toBeUndefined();
  });
});

import { describe, expect, it } from 'vitest';
import { driftChart, histogramChart, spectrumChart } from './cell-charts';

describe('charts of a cell', () => {
  it('draws the spectrum between decades, without frequency 0', () => {
    const density = [99, 1e-4, 1e-2, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4];
    const chart = spectrumChart({ stepHz: 1, density, hum: [] }, 1);
    expect(chart?.yTicks.map((tick) => tick.value)).toEqual([0.01, 0.1]);
    expect(chart?.xTicks.map((tick) => [tick.value, Math.round(tick.at)])).toEqual([
      [1, 0],
      [10, 100],
    ]);
    expect(chart?.path.startsWith('M0.00 100.00L30.10 0.00')).toBe(true);
  });

  it('draws nothing where there is nothing', () => {
    expect(spectrumChart({ stepHz: 1, density: [0, 0], hum: [] }, 1)).toBeUndefined();
    expect(driftChart({ seconds: 1, rangeCounts: 0, stepS: 1, meansCounts: [5] }, 1)).toBeUndefined();
    expect(histogramChart({ count: 0, p50Ms: 0, p95Ms: 0, p99Ms: 0, maxMs: 0, bins: [] })).toBeUndefined();
  });

  it('draws drift relative to the oldest mean, the newest at the right', () => {
    const chart = driftChart({ seconds: 5, rangeCounts: 40, stepS: 1, meansCounts: [10, 20, 30, 40, 50] }, 0.1);
    expect(chart?.yTicks.map((tick) => tick.value)).toEqual([0, 2, 4]);
    expect(chart?.path).toBe('M0.00 100.00L25.00 75.00L50.00 50.00L75.00 25.00L100.00 0.00');
    expect(chart?.xTicks[0]).toEqual({ at: 100, value: -0 });
  });

  it('draws a still cell as a flat line', () => {
    const chart = driftChart({ seconds: 3, rangeCounts: 0, stepS: 1, meansCounts: [7, 7, 7] }, 0.1);
    expect(chart?.path).toBe('M0.00 100.00L50.00 100.00L100.00 100.00');
  });

  it('draws bars over a logarithmic axis', () => {
    const chart = histogramChart({
      count: 5,
      p50Ms: 10,
      p95Ms: 10,
      p99Ms: 10,
      maxMs: 12,
      bins: [
        { fromMs: 10, toMs: 12, count: 4 },
        { fromMs: 12, toMs: 15, count: 1 },
      ],
    });
    expect(chart?.path.match(/Z/g)?.length).toBe(2);
    expect(chart?.path).toContain('V0.00');
    expect(chart?.path).toContain('V50.00');
  });
});

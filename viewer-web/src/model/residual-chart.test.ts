import { describe, expect, it } from 'vitest';
import type { GuideResult } from '../live/guide-api';
import { residualChart } from './residual-chart';

const load = (appliedN: number, residualN: number) => ({
  applied: appliedN,
  appliedN,
  residualN,
  expandedUncertaintyN: 0.5,
});
const result = (loads: GuideResult['loads']): GuideResult => ({
  loads,
  limitsPercent: { interpolation: 0.2 },
  beyondLimits: [],
  notes: [],
  relativeStandardUncertaintyPercent: 0.1,
});

describe('the drawing of residuals', () => {
  it('should hold dots, bars and limits within its box, zero in the middle', () => {
    const chart = residualChart(result([load(0, 0), load(500, 1.2), load(1000, -0.4)]));
    expect(chart?.zeroAt).toBe(50);
    expect(chart?.dots.map((dot) => dot.x)).toEqual([4, 50, 96]);
    // The limit at 1000 N is 2 N and the highest of all: 1.08 times that is the edge.
    expect(chart?.dots[1]?.y).toBeCloseTo(50 - (1.2 / 2.16) * 50, 9);
    expect(chart?.limits).toContain(`96.00 ${(50 - 50 / 1.08).toFixed(2)}`);
    const ys = [...(chart?.bars ?? '').matchAll(/[ML][\d.]+ (-?[\d.]+)/g)].map((match) => Number(match[1]));
    expect(ys.length).toBe(6);
    expect(Math.min(...ys)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...ys)).toBeLessThanOrEqual(100);
  });

  it('should draw nothing of one load', () => {
    expect(residualChart(result([load(5, 0)]))).toBeUndefined();
  });
});

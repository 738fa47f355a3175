import { describe, expect, it } from 'vitest';
import { ForceScale, gridSteps, niceAbove } from './force-scale';

describe('ForceScale', () => {
  it('should grow at once and keep its height between efforts', () => {
    const scale = new ForceScale(200);
    expect(scale.update(-1, 5, 0)).toEqual({ minN: -10, maxN: 200 });
    expect(scale.update(-1, 512, 1).maxN).toBe(600);
    expect(scale.update(-1, 3, 30).maxN).toBe(600);
    expect(scale.update(-1, 540, 50).maxN).toBe(600);
    expect(scale.update(-1, 3, 100).maxN).toBe(600);
  });

  it('should shrink after a minute without need', () => {
    const scale = new ForceScale(200);
    scale.update(0, 1500, 0);
    expect(scale.update(0, 100, 59).maxN).toBe(2000);
    expect(scale.update(0, 100, 61).maxN).toBe(200);
  });

  it('should make room below zero for forces that are truly negative', () => {
    const scale = new ForceScale(200);
    expect(scale.update(-90, 100, 0).minN).toBe(-100);
    expect(scale.update(-2, 100, 59).minN).toBe(-100);
    expect(scale.update(-2, 100, 61).minN).toBe(-10);
  });
});

describe('niceAbove', () => {
  it('should be the next round number', () => {
    expect([1, 1.01, 99, 100, 512, 553, 850, 0.03, 0, -4, Number.NaN].map(niceAbove)).toEqual([
      1, 1.5, 100, 100, 600, 600, 1000, 0.03, 0, 0, 0,
    ]);
  });
});

describe('gridSteps', () => {
  it('should be round and inside', () => {
    expect(gridSteps(-10, 200, 4)).toEqual([0, 100, 200]);
    expect(gridSteps(-30, 600, 6)).toEqual([0, 200, 400, 600]);
    expect(gridSteps(-75, 1500, 8)).toEqual([0, 200, 400, 600, 800, 1000, 1200, 1400]);
  });
});

import { describe, expect, it } from 'vitest';
import { BEGIN_COMPARE, type CellsCompare, comparison, stepCompare } from './cells-compare';

function feed(now: CellsCompare, left: number, right: number, levels = 25, scatter = 0): CellsCompare {
  let next = now;
  for (let i = 0; i < levels; i++) {
    const noise = i % 2 === 0 ? scatter : -scatter;
    next = stepCompare(next, { left: left + noise, right: right + noise });
  }
  return next;
}

describe('comparing two cells with one mass', () => {
  it('takes a steady reading of each and gives their ratio', () => {
    let now = feed(BEGIN_COMPARE, 0.3, -0.2);
    now = feed(now, 100.3, 0, 25, 0.05);
    expect(now.readings.left?.forceN).toBeCloseTo(100, 6);
    expect(now.load).toBeUndefined();
    now = feed(now, 0.3, -0.2);
    expect(now.load).toBe('right');
    now = feed(now, 0, 98.8, 25, 0.05);
    const result = comparison(now);
    expect(result?.differencePercent).toBeCloseTo(100 * Math.log(100 / 99), 4);
    expect(result?.differenceUPercent).toBeCloseTo(0.073, 2);
    expect(result?.mismatchPercent).toBeCloseTo(1.008, 2);
    expect(feed(now, 0, 300)).toBe(now);
  });

  it('waits for a load that is steady, heavy enough and on one cell alone', () => {
    const rest = feed(BEGIN_COMPARE, 0, 0);
    expect(feed(rest, 10, 0).readings.left).toBeUndefined();
    expect(feed(rest, 100, 50).readings.left).toBeUndefined();
    expect(feed(rest, 100, 0, 25, 5).readings.left).toBeUndefined();
    expect(feed(rest, 100, 0, 10).readings.left).toBeUndefined();
  });

  it('does not take what lay there before for the mass', () => {
    const now = feed(feed(BEGIN_COMPARE, 30, 5), 130, 5);
    expect(now.readings.left?.forceN).toBeCloseTo(100, 6);
  });

  it('waits until the mass is off before it asks for the other side', () => {
    const now = feed(feed(BEGIN_COMPARE, 0, 0), 100, 0);
    expect(feed(now, 60, 0).load).toBeUndefined();
    expect(feed(now, 2, 0).load).toBe('right');
  });
});

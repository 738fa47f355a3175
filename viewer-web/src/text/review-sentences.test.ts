import { describe, expect, it } from 'vitest';
import type { Contraction, Metric } from '../live/events';
import { MetricCatalog } from '../model/metric-catalog';
import {
  boundaryText,
  boundaryValueText,
  budgetText,
  cellText,
  computedIds,
  movedText,
  placeText,
  reasons,
} from './review-sentences';

const NBSP = '\u00a0';

function contraction(revision: Contraction['revision'], onsetS: number, metrics: readonly Metric[]): Contraction {
  const times = { onsetS, releaseStartS: 4, offsetS: 4.4 };
  const doubts = {
    onsetStandardUncertaintyS: 0.0021,
    releaseStartStandardUncertaintyS: 0.0083,
    offsetStandardUncertaintyS: 0.005,
  };
  return { type: 'contraction', id: 1, revision, channel: 0, limb: 'left', ...times, ...doubts, flags: [], metrics };
}

const PEAK = { id: 'force.peak', value: 512.34, standardUncertainty: 1.12, unit: 'N' };
const AUTOMATIC = contraction('final', 1, [
  PEAK,
  { id: 'rfd.0-50ms', notComputed: 'the onset is too uncertain' },
  { id: 'torque.peak', notComputed: 'no lever arm is known' },
  { id: 'torque.peak.per-kg', notComputed: 'no lever arm is known' },
]);
const MANUAL = contraction('manual', 1.0029, [
  PEAK,
  { id: 'rfd.0-50ms', value: 2900, standardUncertainty: 31, unit: 'N/s' },
  { id: 'torque.peak', notComputed: 'no lever arm is known' },
  { id: 'torque.peak.per-kg', notComputed: 'no lever arm is known' },
]);

describe('boundaries in words', () => {
  it('should say how far one was moved', () => {
    expect(movedText(1, 1.0029)).toBe(`2.9${NBSP}ms later`);
    expect(movedText(1, 0.99)).toBe(`10.0${NBSP}ms earlier`);
    expect(movedText(1, 2.25)).toBe(`1.25${NBSP}s later`);
    expect(movedText(1, 1)).toBeUndefined();
  });

  it('should keep what was found beside what was set by hand, each time with its uncertainty', () => {
    expect(boundaryText('onset', AUTOMATIC, undefined)).toBe(`1.0000(0.0021)${NBSP}s, as found`);
    expect(boundaryText('onset', AUTOMATIC, MANUAL)).toBe(
      `1.0029(0.0021)${NBSP}s by hand, 2.9${NBSP}ms later than found at 1.0000(0.0021)${NBSP}s`,
    );
    expect(boundaryText('offset', AUTOMATIC, MANUAL)).toBe(`4.4000(0.0050)${NBSP}s, as found`);
    const later = { ...MANUAL, releaseStartS: 4.02, releaseStartStandardUncertaintyS: 0.0023 };
    expect(boundaryText('release', AUTOMATIC, later)).toBe(
      `4.0200(0.0023)${NBSP}s by hand, 20.0${NBSP}ms later than found at 4.0000(0.0083)${NBSP}s`,
    );
  });

  it('should never give a time whose uncertainty is not known', () => {
    const { releaseStartStandardUncertaintyS: _, ...unknown } = AUTOMATIC;
    expect(boundaryText('release', unknown, undefined)).toBe('as found');
    const moved = { ...unknown, revision: 'manual' as const, releaseStartS: 4.012 };
    expect(boundaryText('release', unknown, moved)).toBe(`by hand, 12.0${NBSP}ms later than found`);
  });

  it('should tell a screen reader where a boundary is while it moves', () => {
    const found = { onset: 1, release: 4, offset: 4.4 };
    expect(boundaryValueText('onset', found, found)).toBe('0.000 s after the onset found, as found');
    expect(boundaryValueText('onset', { ...found, onset: 0.99 }, found)).toBe(
      `0.010 s before the onset found, 10.0${NBSP}ms earlier than found`,
    );
  });

  it('should say which of how many', () => {
    expect(placeText(2, 12)).toBe('3 of 12');
    expect(placeText(-1, 12)).toBe('\u2212');
  });
});

describe('metrics of one contraction', () => {
  it('should list what has a value in either revision, and gather the rest by its reason', () => {
    expect(computedIds([AUTOMATIC])).toEqual(['force.peak']);
    expect(computedIds([AUTOMATIC, MANUAL])).toEqual(['force.peak', 'rfd.0-50ms']);
    expect(reasons([AUTOMATIC, MANUAL])).toEqual([
      { reason: 'no lever arm is known', ids: ['torque.peak', 'torque.peak.per-kg'] },
    ]);
    expect(reasons([AUTOMATIC]).map(({ ids }) => ids)).toEqual([['rfd.0-50ms'], ['torque.peak', 'torque.peak.per-kg']]);
  });

  it('should never show a value without its uncertainty', () => {
    expect(cellText(PEAK)).toBe(`512.3(1.1)${NBSP}N`);
    expect(cellText({ id: 'force.peak', value: 512.34, unit: 'N' })).toBe('uncertainty not known');
    expect(cellText(AUTOMATIC.metrics[1])).toBe('the onset is too uncertain');
  });

  it('should name the parts of an uncertainty, the largest first, and leave out what does not count', () => {
    const term = (name: string, share: number) => ({ term: name, standardUncertainty: Math.sqrt(share), share });
    expect(budgetText([term('noise', 0.121), term('calibration', 0.876), term('resolution', 0.003)])).toBe(
      `Its uncertainty comes from: calibration 88${NBSP}%, noise 12${NBSP}%.`,
    );
    expect(budgetText(undefined)).toBeUndefined();
    expect(budgetText([])).toBeUndefined();
  });

  it('should take the names of metrics from the station, and show an unknown id as it is', () => {
    const catalog = new MetricCatalog();
    expect(catalog.title('force.peak')).toBe('force.peak');
    catalog.learn([{ id: 'force.peak', title: 'Peak force', unit: 'N', definition: 'Highest 100-ms mean.' }]);
    expect(catalog.title('force.peak')).toBe('Peak force');
    expect(catalog.title('force.new')).toBe('force.new');
  });
});

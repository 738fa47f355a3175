import { describe, expect, it } from 'vitest';
import type { Contraction } from '../live/events';
import { readSamples } from '../live/review-api';
import { TracePoints } from './decimate';
import {
  boundariesOf,
  forceExtremes,
  nearestSampleS,
  neighbourId,
  newestBefore,
  periodS,
  ringOf,
  sameBoundaries,
  sampleStepS,
  viewRange,
  withBoundary,
} from './review';

/** 5 s at 1 kHz from 10 s on, every sample late by up to 40 us, 250 ms missing from sample 2000 on. */
const T0_NS = 10_000_000_123;
const KEPT = Array.from({ length: 5000 }, (_, i) => i).filter((i) => i < 2000 || i >= 2250);
const TIME_NS = KEPT.map((i) => i * 1_000_000 + ((i * 7919) % 40_000));
const SAMPLES = readSamples({ t0Ns: T0_NS, timeNs: TIME_NS, forceN: KEPT.map((i) => i % 400), gapBefore: [2000] });
const FOUND = { onset: 11, release: 13.5, offset: 14 };

function contraction(id: number, onsetS: number, more: Partial<Contraction> = {}): Contraction {
  return {
    type: 'contraction',
    id,
    revision: 'final',
    channel: 0,
    limb: 'left',
    onsetS,
    releaseStartS: onsetS + 2,
    offsetS: onsetS + 2.4,
    flags: [],
    metrics: [],
    ...more,
  };
}

function sampleS(i: number): number {
  return (T0_NS + (TIME_NS[i] ?? Number.NaN)) / 1e9;
}

describe('moving a boundary', () => {
  it('should step to the very next sample, whatever the jitter, and back to the same one', () => {
    const from = sampleS(1000);
    const later = sampleStepS(SAMPLES, from, 1);
    expect(later).toBe(sampleS(1001));
    expect(sampleStepS(SAMPLES, later, -1)).toBe(from);
    expect(Math.round(later * 1e9)).toBe(T0_NS + (TIME_NS[1001] ?? 0));
  });

  it('should step from between two samples to the one on that side', () => {
    const between = (sampleS(1000) + sampleS(1001)) / 2;
    expect(sampleStepS(SAMPLES, between, 1)).toBe(sampleS(1001));
    expect(sampleStepS(SAMPLES, between, -1)).toBe(sampleS(1000));
  });

  it('should step over missing samples and stop at the ends', () => {
    expect(sampleStepS(SAMPLES, sampleS(1999), 1)).toBe(sampleS(2000));
    expect(sampleS(2000) - sampleS(1999)).toBeGreaterThan(0.25);
    expect(sampleStepS(SAMPLES, sampleS(0), -1)).toBe(sampleS(0));
    expect(sampleStepS(SAMPLES, sampleS(4749), 1)).toBe(sampleS(4749));
  });

  it('should find the nearest sample', () => {
    expect(nearestSampleS(SAMPLES, sampleS(300) + 0.0003)).toBe(sampleS(300));
    expect(nearestSampleS(SAMPLES, sampleS(300) - 0.0003)).toBe(sampleS(300));
    expect(nearestSampleS(SAMPLES, 0)).toBe(sampleS(0));
    expect(nearestSampleS(SAMPLES, 1e6)).toBe(sampleS(4749));
  });

  it('should keep the order of the boundaries and stay within the samples', () => {
    expect(withBoundary(FOUND, 'onset', 13.9, SAMPLES).onset).toBeCloseTo(13.499, 3);
    expect(withBoundary(FOUND, 'onset', 0, SAMPLES).onset).toBe(sampleS(0));
    expect(withBoundary(FOUND, 'release', 20, SAMPLES).release).toBe(14);
    expect(withBoundary(FOUND, 'release', 0, SAMPLES).release).toBeCloseTo(11.001, 3);
    expect(withBoundary(FOUND, 'offset', 12, SAMPLES).offset).toBe(13.5);
    expect(withBoundary(FOUND, 'offset', 99, SAMPLES).offset).toBe(sampleS(4749));
    expect(withBoundary(FOUND, 'offset', 14.2, SAMPLES)).toEqual({ ...FOUND, offset: 14.2 });
  });

  it('should tell the same boundaries from others', () => {
    expect(sameBoundaries(FOUND, { ...FOUND })).toBe(true);
    expect(sameBoundaries(FOUND, { ...FOUND, offset: 14.001 })).toBe(false);
    expect(boundariesOf(contraction(1, 5))).toEqual({ onset: 5, release: 7, offset: 7.4 });
  });
});

describe('what is shown of a contraction', () => {
  it('should hang on what the station found', () => {
    expect(viewRange('whole', FOUND, SAMPLES)).toEqual({ fromS: sampleS(0), toS: sampleS(4749) });
    expect(viewRange('onset', FOUND, SAMPLES)).toEqual({ fromS: 10.8, toS: 11.4 });
    expect(viewRange('release', FOUND, SAMPLES)).toEqual({ fromS: 13.25, toS: 14.25 });
  });

  it('should draw every sample within a fiftieth of a period of its time, and break at the gap', () => {
    const ring = ringOf(SAMPLES);
    const points = new TracePoints();
    let worstS = 0;
    let i = 0;
    for (let block = ring.firstBlock; block < ring.endBlock; block++) {
      expect(ring.hasGapBefore(block)).toBe(i === 2000);
      for (let k = 0; k < ring.blockCount(block); k++, i++) {
        worstS = Math.max(worstS, Math.abs(ring.blockT0S(block) + k * ring.blockPeriodS(block) - sampleS(i)));
        points.add(0, ring.valueAt(block, k), false);
      }
    }
    expect(i).toBe(4750);
    expect(points.forceN.subarray(0, 4750)).toEqual(SAMPLES.forceN);
    // The jitter of these invented samples is 40 us; that of a station's clock estimate is far smaller.
    expect(worstS).toBeLessThan(0.00004);
    expect(periodS(SAMPLES)).toBeCloseTo(0.001, 4);
  });

  it('should find the extremes of a part, zero included', () => {
    expect(forceExtremes(SAMPLES, sampleS(100), sampleS(200))).toEqual({ lowN: 0, highN: 200 });
    expect(forceExtremes(SAMPLES, 0, 1e6)).toEqual({ lowN: 0, highN: 399 });
  });
});

describe('going from one contraction to the next', () => {
  const list = [
    contraction(1, 1),
    contraction(4, 5),
    contraction(2, 9, { revision: 'manual' }),
    contraction(3, 13, { revision: 'provisional' }),
  ];

  it('should go in the order of the onsets, over those that are not finished', () => {
    expect(neighbourId(list, 1, 1)).toBe(4);
    expect(neighbourId(list, 4, 1)).toBe(2);
    expect(neighbourId(list, 2, 1)).toBeUndefined();
    expect(neighbourId(list, 1, -1)).toBeUndefined();
    expect(neighbourId(list, 99, 1)).toBeUndefined();
  });

  it('should find the newest in view', () => {
    expect(newestBefore(list, 100)?.id).toBe(2);
    expect(newestBefore(list, 6)?.id).toBe(4);
    expect(newestBefore(list, 0)).toBeUndefined();
  });
});

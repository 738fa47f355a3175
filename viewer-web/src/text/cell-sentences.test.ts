import { describe, expect, it } from 'vitest';
import type { CellReport } from '../live/cell-api';
import { axisText, countsText, distributionText, humText, noiseFacts, rangeFacts, twoDigits } from './cell-sentences';

const NONE = { count: 0, p50Ms: 0, p95Ms: 0, p99Ms: 0, maxMs: 0, bins: [] };
const EMPTY: CellReport = {
  channel: 0,
  link: 'serial:/dev/invented',
  deviceId: 'cell',
  name: 'left',
  unit: 'N',
  unitPerCount: 0.01,
  sampleRateHz: 1000,
  ratedLoadN: 2000,
  range: { samples: 0, newest: 0, lowest: 0, highest: 0, overloaded: 0 },
  drift: { seconds: 0, rangeCounts: 0, stepS: 1, meansCounts: [] },
  arrivals: { messages: 0, intervals: NONE, delays: NONE },
  advice: [],
};
const QUIET: CellReport = {
  ...EMPTY,
  range: { samples: 12345, newest: 5003, lowest: 4970, highest: 5031, overloaded: 0 },
  noise: {
    samples: 8000,
    meanCounts: 5000,
    rmsCounts: 8.04,
    peakToPeakCounts: 61,
    noiseFreeCounts: 53.06,
    moved: false,
  },
  drift: { seconds: 600, countsPerMinute: -1.234, rangeCounts: 14, stepS: 2, meansCounts: [] },
  spectrum: { stepHz: 1, density: [], hum: [{ mainsHz: 50, harmonic: 3, frequencyHz: 150.4, rmsCounts: 3 }] },
};

describe('what is said of a cell', () => {
  it('writes sizes with two digits, and counts as counts and newtons', () => {
    expect(twoDigits(0.0834, 'N')).toBe('0.083\u00a0N');
    expect(twoDigits(-1.26, 'N')).toBe('\u22121.3\u00a0N');
    expect(twoDigits(0, 'N')).toBe('0\u00a0N');
    expect(countsText(8.04, QUIET)).toBe('8.0\u00a0counts, 0.080\u00a0N');
    expect(countsText(1234, { ...QUIET, unit: 'count' })).toBe('1\u202f234\u00a0counts');
  });

  it('says what is not known yet', () => {
    expect(rangeFacts(EMPTY)).toEqual([['samples', 'not known']]);
    expect(noiseFacts(EMPTY)[0]).toEqual(['noise', 'not enough samples yet']);
    expect(humText(EMPTY)).toBe('not enough samples yet');
    expect(distributionText(NONE)).toBe('not known');
  });

  it('says noise, resolution and drift of a quiet cell', () => {
    const facts = new Map(noiseFacts(QUIET));
    expect(facts.get('noise, 1 SD')).toBe('8.0\u00a0counts, 0.080\u00a0N');
    expect(facts.get('steps over the rated load')).toBe('3\u202f769');
    expect(facts.get('drift')).toBe('\u22120.012\u00a0N/min');
    expect(facts.get('range of the means')).toBe('14\u00a0counts, 0.14\u00a0N in 10\u00a0min');
    expect(humText(QUIET)).toBe('150.4\u00a0Hz (3 \u00d7 mains 50): 3.0\u00a0counts, 0.030\u00a0N');
    expect(humText({ ...QUIET, spectrum: { stepHz: 1, density: [], hum: [] } })).toMatch(/^none/);
  });

  it('says how well the noise is known where the station tells', () => {
    const noise = { ...QUIET.noise, rmsStandardUncertaintyCounts: 0.064 } as NonNullable<CellReport['noise']>;
    const facts = new Map(noiseFacts({ ...QUIET, noise }));
    expect(facts.get('noise, 1 SD')).toBe('8.040(0.064)\u00a0counts, 0.08040(0.00064)\u00a0N');
    expect(new Map(noiseFacts({ ...QUIET, noise, unit: 'count' })).get('noise, 1 SD')).toBe('8.040(0.064)\u00a0counts');
  });

  it('judges no noise while the cell is moved', () => {
    const moved = {
      ...QUIET,
      noise: { samples: 8000, meanCounts: 0, rmsCounts: 5e4, peakToPeakCounts: 2e5, noiseFreeCounts: 3e5, moved: true },
    };
    const facts = new Map(noiseFacts(moved));
    expect(facts.get('noise')).toBe('not judged: the cell is loaded or moved');
    expect(facts.has('noise-free resolution')).toBe(false);
  });

  it('says how messages arrive', () => {
    expect(distributionText({ count: 9, p50Ms: 10, p95Ms: 11, p99Ms: 12.3, maxMs: 140, bins: [] })).toBe(
      'median 10.0\u00a0ms, 99 of 100 within 12.3\u00a0ms, longest 140\u00a0ms',
    );
  });

  it('writes the numbers of axes as short as they can be', () => {
    expect([0, 0.01, 0.5, 1, 200, 1e-5, -2e6].map(axisText)).toEqual([
      '0',
      '0.01',
      '0.5',
      '1',
      '200',
      '10\u207b\u2075',
      '\u22122\u00b710\u2076',
    ]);
  });
});

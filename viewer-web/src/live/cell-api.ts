/** The diagnosis of one cell, in counts; `unitPerCount` turns them into newtons. */

import { words } from '../text/words';
import { reasonOf } from './station-api';

export interface Distribution {
  readonly count: number;
  readonly p50Ms: number;
  readonly p95Ms: number;
  readonly p99Ms: number;
  readonly maxMs: number;
  readonly bins: readonly { readonly fromMs: number; readonly toMs: number; readonly count: number }[];
}

export interface CellReport {
  readonly channel: number;
  readonly link: string;
  readonly deviceId: string;
  readonly name: string;
  readonly unit: 'N' | 'count';
  readonly unitPerCount: number;
  readonly sampleRateHz: number;
  readonly ratedLoadN?: number;
  readonly range: {
    readonly samples: number;
    readonly newest: number;
    readonly lowest: number;
    readonly highest: number;
    readonly overloaded: number;
  };
  readonly noise?: {
    readonly samples: number;
    readonly meanCounts: number;
    readonly rmsCounts: number;
    /** Absent in what an older station tells. */
    readonly rmsStandardUncertaintyCounts?: number;
    readonly peakToPeakCounts: number;
    readonly noiseFreeCounts: number;
    readonly moved: boolean;
  };
  readonly spectrum?: {
    readonly stepHz: number;
    readonly density: readonly number[];
    readonly hum: readonly {
      readonly mainsHz: number;
      readonly harmonic: number;
      readonly frequencyHz: number;
      readonly rmsCounts: number;
    }[];
  };
  readonly drift: {
    readonly seconds: number;
    readonly countsPerMinute?: number;
    readonly rangeCounts: number;
    readonly stepS: number;
    readonly meansCounts: readonly number[];
  };
  readonly arrivals: { readonly messages: number; readonly intervals: Distribution; readonly delays: Distribution };
  readonly advice: readonly { readonly id: string; readonly text: string }[];
}

/** Resolves to the report, or to one sentence that says what failed. */
export async function askForCell(channel: number): Promise<CellReport | string> {
  try {
    const answer = await fetch(`api/v1/cells/${channel}`);
    return answer.ok ? ((await answer.json()) as CellReport) : await reasonOf(answer);
  } catch {
    return words.stationNotReached;
  }
}

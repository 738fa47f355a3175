/** What the station tells of one finished contraction, and the requests that move its boundaries (docs/live-protocol.md). */

import { words } from '../text/words';
import type { Contraction, Effort } from './events';
import { reasonOf } from './station-api';

/** Where in the trace a metric was taken from. */
export interface Mark {
  readonly id: string;
  readonly kind: 'level' | 'slope' | 'point';
  readonly fromS: number;
  readonly toS: number;
  readonly fromN: number;
  readonly toN: number;
}

export interface Review {
  readonly id: number;
  readonly channel: number;
  readonly unit: string;
  readonly sampleRateHz: number;
  /** As the station found it. */
  readonly automatic: Contraction;
  /** In force where a person has moved a boundary. */
  readonly manual?: Contraction;
  readonly effort?: Effort;
  readonly undo: boolean;
  readonly redo: boolean;
  readonly firstS?: number;
  readonly lastS?: number;
  /** Why there are no samples. */
  readonly gone?: string;
  readonly marks?: readonly Mark[];
}

/** The samples of a contraction, unfiltered. */
export interface Samples {
  readonly timeS: Float64Array;
  readonly forceN: Float32Array;
  /** Indices before which samples are missing. */
  readonly gapBefore: ReadonlySet<number>;
}

export interface MetricText {
  readonly id: string;
  readonly title: string;
  readonly unit: string;
  readonly definition: string;
}

export type BoundaryRequest =
  | { readonly change: 'undo' | 'redo' | 'automatic' }
  | { readonly onsetS?: number; readonly releaseStartS?: number; readonly offsetS?: number };

/** An answer, or one sentence that says why there is none. */
export type Answer<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly reason: string };

export const reviewApi = {
  review: (id: number): Promise<Answer<Review>> => get(`contractions/${id}`, (json) => json as Review),
  samples: (id: number): Promise<Answer<Samples>> => get(`contractions/${id}/samples`, readSamples),
  move: (id: number, request: BoundaryRequest): Promise<Answer<Review>> =>
    ask(`contractions/${id}/boundaries`, (json) => json as Review, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(request),
    }),
  metrics: (): Promise<Answer<readonly MetricText[]>> =>
    get('metrics', (json) => {
      const { contraction, effort } = json as { contraction: MetricText[]; effort: MetricText[] };
      return [...contraction, ...effort];
    }),
};

/** Times become seconds of station time; a time sent back is the same nanosecond again. */
export function readSamples(json: unknown): Samples {
  const { t0Ns, timeNs, forceN, gapBefore } = json as {
    t0Ns: number;
    timeNs: number[];
    forceN: number[];
    gapBefore: number[];
  };
  return {
    timeS: Float64Array.from(timeNs, (afterNs) => (t0Ns + afterNs) / 1e9),
    forceN: Float32Array.from(forceN),
    gapBefore: new Set(gapBefore),
  };
}

function get<T>(resource: string, read: (json: unknown) => T): Promise<Answer<T>> {
  return ask(resource, read, {});
}

async function ask<T>(resource: string, read: (json: unknown) => T, init: RequestInit): Promise<Answer<T>> {
  try {
    const answer = await fetch(`api/v1/${resource}`, init);
    if (!answer.ok) return { ok: false, reason: await reasonOf(answer) };
    return { ok: true, value: read(await answer.json()) };
  } catch {
    return { ok: false, reason: words.stationNotReached };
  }
}

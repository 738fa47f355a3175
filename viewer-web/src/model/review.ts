/** One contraction under review: its boundaries, how they may be moved, and what part of its trace is shown. */

import type { Contraction } from '../live/events';
import { KIND_SAMPLES } from '../live/parse-blocks';
import type { Review, Samples } from '../live/review-api';
import { TraceRing } from './trace-ring';

export const BOUNDARY_NAMES = ['onset', 'release', 'offset'] as const;
export type BoundaryName = (typeof BOUNDARY_NAMES)[number];

/** Station times of the three boundaries, in seconds. */
export type Boundaries = Readonly<Record<BoundaryName, number>>;

/** Which part of the kept samples is shown. */
export const REVIEW_VIEWS = ['whole', 'onset', 'release'] as const;
export type ReviewViewName = (typeof REVIEW_VIEWS)[number];

const AROUND_ONSET_S = [0.2, 0.4] as const;
const AROUND_RELEASE_S = 0.25;
const BLOCK = 64;
/** Times within this of each other are the same sample: a tenth of the shortest period. */
const SAME_S = 0.00001;

export function inForce(review: Review): Contraction {
  return review.manual ?? review.automatic;
}

export function boundariesOf({ onsetS, releaseStartS, offsetS }: Contraction): Boundaries {
  const endS = offsetS ?? onsetS;
  return { onset: onsetS, release: releaseStartS ?? endS, offset: endS };
}

/** Time of the sample that lies a number of samples later (or, negative, earlier) than a boundary. */
export function sampleStepS(samples: Samples, fromS: number, steps: number): number {
  const { timeS } = samples;
  const next = firstAtOrAfter(timeS, fromS + (steps > 0 ? SAME_S : -SAME_S));
  const index = steps > 0 ? next + steps - 1 : next + steps;
  return timeS[Math.min(timeS.length - 1, Math.max(0, index))] ?? fromS;
}

/** Time of the sample nearest to a time. */
export function nearestSampleS(samples: Samples, atS: number): number {
  const { timeS } = samples;
  const after = Math.min(timeS.length - 1, firstAtOrAfter(timeS, atS));
  const before = Math.max(0, after - 1);
  const afterS = timeS[after] ?? atS;
  const beforeS = timeS[before] ?? atS;
  return atS - beforeS < afterS - atS ? beforeS : afterS;
}

/** The same boundaries with one of them elsewhere, kept in order and within the samples. */
export function withBoundary(now: Boundaries, name: BoundaryName, toS: number, samples: Samples): Boundaries {
  const { timeS } = samples;
  const stepS = periodS(samples);
  const lowS = { onset: timeS[0] ?? toS, release: now.onset + stepS, offset: now.release };
  const highS = { onset: now.release - stepS, release: now.offset, offset: timeS[timeS.length - 1] ?? toS };
  return { ...now, [name]: Math.min(Math.max(toS, lowS[name]), Math.max(lowS[name], highS[name])) };
}

export function sameBoundaries(a: Boundaries, b: Boundaries): boolean {
  return BOUNDARY_NAMES.every((name) => Math.abs(a[name] - b[name]) < 1e-9);
}

/** The part of the time axis that a view shows. It hangs on what the station found, so that it stands still meanwhile. */
export function viewRange(name: ReviewViewName, found: Boundaries, samples: Samples): { fromS: number; toS: number } {
  const firstS = samples.timeS[0] ?? found.onset;
  const lastS = samples.timeS[samples.timeS.length - 1] ?? found.offset;
  switch (name) {
    case 'whole':
      return { fromS: firstS, toS: Math.max(lastS, firstS + 0.1) };
    case 'onset':
      return { fromS: found.onset - AROUND_ONSET_S[0], toS: found.onset + AROUND_ONSET_S[1] };
    case 'release':
      return { fromS: found.release - AROUND_RELEASE_S, toS: found.offset + AROUND_RELEASE_S };
  }
}

/** The view in which a boundary can be told sample by sample. */
export function viewOf(name: BoundaryName): ReviewViewName {
  return name === 'onset' ? 'onset' : 'release';
}

/** The samples as a ring, which the trace is drawn from; blocks follow the real times to well under a period. */
export function ringOf(samples: Samples): TraceRing {
  const { timeS, forceN, gapBefore } = samples;
  const ring = new TraceRing(Math.max(1, timeS.length), Math.ceil(timeS.length / BLOCK) + gapBefore.size + 1);
  const nominalS = periodS(samples);
  let from = 0;
  for (let i = 1; i <= timeS.length; i++) {
    if (i < timeS.length && i - from < BLOCK && !gapBefore.has(i)) continue;
    const spanS = (timeS[i - 1] ?? 0) - (timeS[from] ?? 0);
    const blockS = i - from > 1 ? spanS / (i - 1 - from) : nominalS;
    ring.append(KIND_SAMPLES, timeS[from] ?? 0, blockS, forceN.subarray(from, i));
    from = i;
  }
  return ring;
}

/** Least and greatest force between two times; zero is always between them. */
export function forceExtremes(samples: Samples, fromS: number, toS: number): { lowN: number; highN: number } {
  let lowN = 0;
  let highN = 0;
  for (let i = firstAtOrAfter(samples.timeS, fromS); i < samples.timeS.length; i++) {
    if ((samples.timeS[i] ?? 0) > toS) break;
    const forceN = samples.forceN[i] ?? 0;
    if (forceN < lowN) lowN = forceN;
    else if (forceN > highN) highN = forceN;
  }
  return { lowN, highN };
}

/** Usual time between samples, in seconds: the median of the first steps, which gaps do not move. */
export function periodS({ timeS }: Samples): number {
  const steps: number[] = [];
  for (let i = 1; i < Math.min(timeS.length, 200); i++) steps.push((timeS[i] ?? 0) - (timeS[i - 1] ?? 0));
  steps.sort((a, b) => a - b);
  return steps[steps.length >> 1] ?? 0.001;
}

/** The finished contraction before (-1) or after (1) another, in the order of their onsets. */
export function neighbourId(contractions: readonly Contraction[], id: number, direction: 1 | -1): number | undefined {
  const finished = reviewable(contractions);
  const at = finished.findIndex((one) => one.id === id);
  return at < 0 ? undefined : finished[at + direction]?.id;
}

/** The newest finished contraction that begins before a time. */
export function newestBefore(contractions: readonly Contraction[], beforeS: number): Contraction | undefined {
  return reviewable(contractions).findLast((one) => one.onsetS < beforeS);
}

/** Those that are finished. */
export function reviewable(contractions: readonly Contraction[]): readonly Contraction[] {
  return contractions.filter((one) => one.offsetS !== undefined && one.revision !== 'provisional');
}

function firstAtOrAfter(timeS: Float64Array, atS: number): number {
  let low = 0;
  let high = timeS.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((timeS[middle] ?? 0) < atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The guided calibration and the saved versions of a cell (docs/live-protocol.md). */

import { words } from '../text/words';
import type { Answer } from './review-api';
import { reasonOf } from './station-api';

export interface GuidePlan {
  readonly by: string;
  readonly loadsDescribed?: string;
  readonly unit: 'kg' | 'N' | 'kgf' | 'lbf';
  readonly loadUPercent: number;
  readonly latitudeDeg?: number;
  readonly heightM?: number;
  readonly loads: readonly number[];
  readonly down: boolean;
  readonly mountings: number;
  readonly runs: number;
  readonly preload: boolean;
  readonly degree: number;
  readonly stretchS: number;
  readonly waitS: number;
  readonly validDays: number;
}

export interface Taken {
  readonly meanCounts: number;
  readonly sdCounts: number;
  readonly samples: number;
  readonly seconds: number;
  readonly applied: number;
  readonly moving: boolean;
  readonly at: string;
}

export interface GuideStep {
  readonly kind: 'mount' | 'preload' | 'read';
  readonly run: string;
  readonly mounting: string;
  readonly increasing: boolean;
  readonly applied: number;
  readonly taken?: Taken;
  readonly doubts?: readonly string[];
}

export interface LoadFigures {
  readonly applied: number;
  readonly appliedN: number;
  readonly residualN: number;
  readonly expandedUncertaintyN: number;
  readonly repeatabilityPercent?: number;
  readonly reproducibilityPercent?: number;
  readonly interpolationErrorPercent?: number;
  readonly zeroErrorPercent?: number;
  readonly reversibilityPercent?: number;
}

export interface GuideResult {
  readonly loads: readonly LoadFigures[];
  readonly limitsPercent: Readonly<
    Partial<Record<'repeatability' | 'reproducibility' | 'interpolation' | 'zero' | 'reversibility', number>>
  >;
  readonly beyondLimits: readonly string[];
  readonly notes: readonly string[];
  readonly relativeStandardUncertaintyPercent: number;
}

export interface NoGuide {
  readonly state: 'none';
}

export interface Guide {
  readonly state: 'running' | 'finished';
  readonly id: string;
  readonly cell: { readonly deviceId: string; readonly name: string };
  readonly plan: GuidePlan;
  /** Absent while the cell is not there. */
  readonly channel?: number;
  readonly newtonsPerUnit: number;
  readonly gravityMS2?: number;
  readonly steps: readonly GuideStep[];
  readonly done: number;
  readonly result?: GuideResult;
  readonly refused?: string;
  readonly saved: string;
  readonly usedAtOnce?: boolean;
}

export type GuideState = NoGuide | Guide;

export interface GuideLevel {
  readonly ready: boolean;
  readonly why?: string;
  readonly meanCounts?: number;
  readonly sdCounts?: number;
  readonly seconds?: number;
  readonly still?: boolean;
  readonly stillS?: number;
  readonly shown?: number;
}

export interface SavedVersion {
  readonly version: number;
  readonly id: string;
  readonly calibratedBy: string;
  readonly evaluatedOn: string;
  readonly validUntil: string;
  readonly over: boolean;
  readonly parabola: boolean;
  readonly inUse: boolean;
}

export interface SavedVersions {
  readonly inUse?: string;
  readonly versions: readonly SavedVersion[];
}

export const CERTIFICATE = 'api/v1/guided-calibration/certificate.';

const GUIDED = 'guided-calibration';

export const guideApi = {
  state: (): Promise<Answer<GuideState>> => askStation('GET', GUIDED),
  level: (): Promise<Answer<GuideLevel>> => askStation('GET', `${GUIDED}/level`),
  begin: (channel: number, plan: GuidePlan): Promise<Answer<GuideState>> =>
    askStation('POST', GUIDED, { channel, ...plan }),
  take: (step: number, how: { anyway?: true; applied?: number }): Promise<Answer<GuideState>> =>
    askStation('POST', `${GUIDED}/steps`, { action: 'take', step, ...how }),
  undo: (): Promise<Answer<GuideState>> => askStation('POST', `${GUIDED}/steps`, { action: 'undo' }),
  save: (): Promise<Answer<GuideState>> => askStation('POST', `${GUIDED}/save`, {}),
  cancel: (): Promise<Answer<GuideState>> => askStation('POST', `${GUIDED}/cancel`, {}),
  versions: (channel: number): Promise<Answer<SavedVersions>> => askStation('GET', `cells/${channel}/calibrations`),
  choose: (channel: number, version: number): Promise<Answer<SavedVersions>> =>
    askStation('PUT', `cells/${channel}/calibrations`, { version }),
};

export type GuideApi = typeof guideApi;

export async function askStation<T>(method: string, resource: string, body?: object): Promise<Answer<T>> {
  const init: RequestInit =
    body === undefined
      ? { method }
      : { method, headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) };
  try {
    const answer = await fetch(`api/v1/${resource}`, init);
    if (!answer.ok) return { ok: false, reason: await reasonOf(answer) };
    return { ok: true, value: (await answer.json()) as T };
  } catch {
    return { ok: false, reason: words.stationNotReached };
  }
}

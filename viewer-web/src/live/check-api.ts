/** The quick check of a cell and what deserves a look before a session (docs/live-protocol.md). */

import { askStation, type GuideLevel, type GuidePlan } from './guide-api';
import type { Answer } from './review-api';

export interface CheckPlan {
  readonly by: string;
  readonly load: number;
  readonly unit: GuidePlan['unit'];
  readonly loadUPercent: number;
  readonly latitudeDeg?: number;
  readonly heightM?: number;
}

export interface QuickCheck extends CheckPlan {
  readonly at: string;
  /** The day of it where the station is. */
  readonly day: string;
  readonly calibration: string;
  readonly appliedN: number;
  readonly shownN: number;
  readonly differenceN: number;
  readonly limitN: number;
  readonly holds: boolean;
}

export interface Overload {
  readonly at: string;
  readonly day: string;
  readonly peakN: number;
  readonly shareOfRated: number;
  /** Present where the converter was at its end: the peak was at least that. */
  readonly atLeast?: boolean;
  readonly recording?: string;
}

export interface CheckState {
  readonly warnings: readonly { readonly id: string; readonly text: string }[];
  /** The newest first. */
  readonly checks: readonly QuickCheck[];
  readonly overloads: readonly Overload[];
  readonly running?: CheckPlan & {
    readonly next: 'zero' | 'load';
    readonly appliedN: number;
    readonly level: GuideLevel;
  };
}

export const checkApi = {
  state: (channel: number): Promise<Answer<CheckState>> => askStation('GET', `cells/${channel}/check`),
  begin: (channel: number, plan: CheckPlan): Promise<Answer<CheckState>> =>
    askStation('POST', `cells/${channel}/check`, plan),
  take: (channel: number, of: 'zero' | 'load'): Promise<Answer<CheckState>> =>
    askStation('POST', `cells/${channel}/check/readings`, { of }),
  cancel: (channel: number): Promise<Answer<CheckState>> => askStation('POST', `cells/${channel}/check/cancel`, {}),
};

export type CheckApi = typeof checkApi;

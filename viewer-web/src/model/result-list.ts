/** The last efforts, newest first: contractions of both limbs that belong together, and those that stand alone. */

import type { Contraction, Effort } from '../live/events';
import type { StationState } from './station-state';

export interface ResultEntry {
  /** Stays the same while the entry is refined. */
  readonly key: string;
  readonly onsetS: number;
  readonly effort?: Effort;
  /** Left before right. */
  readonly contractions: readonly Contraction[];
}

export function resultList(state: StationState, most: number): readonly ResultEntry[] {
  const byId = new Map(state.contractions.map((one) => [one.id, one]));
  const entries: ResultEntry[] = [];
  const paired = new Set<number>();
  for (const effort of state.efforts) {
    const contractions = [effort.leftContractionId, effort.rightContractionId].flatMap((id) => byId.get(id) ?? []);
    if (contractions.length < 2) continue;
    for (const one of contractions) paired.add(one.id);
    const onsetS = Math.min(...contractions.map((one) => one.onsetS));
    entries.push({ key: `effort-${effort.id}`, onsetS, effort, contractions });
  }
  for (const one of state.contractions) {
    if (one.offsetS === undefined || paired.has(one.id)) continue;
    entries.push({ key: `contraction-${one.id}`, onsetS: one.onsetS, contractions: [one] });
  }
  return entries.sort((a, b) => b.onsetS - a.onsetS).slice(0, most);
}

/** Ids of all metrics of an entry, in the order in which the station gives them. */
export function metricIds(entry: ResultEntry): readonly string[] {
  return [...new Set(entry.contractions.flatMap((one) => one.metrics.map((metric) => metric.id)))];
}

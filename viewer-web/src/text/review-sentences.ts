/** Words about one contraction under review. */

import { writePercent } from '../format/number';
import { isKnown, MINUS, withUnit, writeFixed, writeQuantity } from '../format/quantity';
import type { BudgetTerm, Contraction, Metric } from '../live/events';
import { type Boundaries, type BoundaryName, boundariesOf } from '../model/review';
import { quantityOf } from './result-sentences';
import { words } from './words';

/** Smaller shares of an uncertainty are not worth a word. */
const LEAST_SHARE = 0.005;

/** How far a boundary was moved from where the station found it: "2.9 ms later", "1.20 s earlier"; absent where it was not. */
export function movedText(fromS: number, toS: number): string | undefined {
  const byS = toS - fromS;
  if (Math.abs(byS) < 1e-7) return undefined;
  const size = Math.abs(byS);
  const text = size < 0.9995 ? withUnit(writeFixed(size * 1e3, 1), 'ms') : withUnit(writeFixed(size, 2), 's');
  return `${text} ${byS > 0 ? 'later' : 'earlier'}`;
}

/** What a screen reader says of a boundary: its place after the onset found, and how far it was moved. */
export function boundaryValueText(name: BoundaryName, at: Boundaries, found: Boundaries): string {
  const afterS = at[name] - found.onset;
  const place = `${writeFixed(Math.abs(afterS), 3)} s ${afterS < 0 ? 'before' : 'after'} the onset found`;
  const moved = movedText(found[name], at[name]);
  return moved === undefined ? `${place}, as found` : `${place}, ${moved} than found`;
}

/** One line on where a boundary lies: found, or by hand beside found. */
export function boundaryText(name: BoundaryName, automatic: Contraction, manual: Contraction | undefined): string {
  const found = boundariesOf(automatic);
  const now = boundariesOf(manual ?? automatic);
  const moved = movedText(found[name], now[name]);
  const time = timeText(now[name], standardUncertaintyS(name, manual ?? automatic));
  if (moved === undefined) return time === undefined ? words.asFound : `${time}, ${words.asFound}`;
  const foundTime = timeText(found[name], standardUncertaintyS(name, automatic));
  const beside = `${moved} than found${foundTime === undefined ? '' : ` at ${foundTime}`}`;
  return time === undefined ? `${words.byHand}, ${beside}` : `${time} ${words.byHand}, ${beside}`;
}

function standardUncertaintyS(name: BoundaryName, contraction: Contraction): number | undefined {
  return {
    onset: contraction.onsetStandardUncertaintyS,
    release: contraction.releaseStartStandardUncertaintyS,
    offset: contraction.offsetStandardUncertaintyS,
  }[name];
}

function timeText(value: number, standardUncertainty: number | undefined): string | undefined {
  const time = { value, standardUncertainty: standardUncertainty ?? 0, unit: 's' };
  return isKnown(time) ? writeQuantity(time) : undefined;
}

/** Metrics that have a value in one of the revisions, in the station's order. */
export function computedIds(revisions: readonly Contraction[]): readonly string[] {
  return allIds(revisions).filter((id) => revisions.some((one) => quantityOf(metricIn(one, id)) !== undefined));
}

/** Metrics without a value in any revision, gathered by the reason that the newest gives. */
export function reasons(revisions: readonly Contraction[]): readonly { reason: string; ids: readonly string[] }[] {
  const computed = new Set(computedIds(revisions));
  const byReason = new Map<string, string[]>();
  const newest = revisions[revisions.length - 1];
  for (const id of allIds(revisions)) {
    if (computed.has(id)) continue;
    const metric = newest && metricIn(newest, id);
    const reason = metric?.notComputed ?? words.uncertaintyNotKnown;
    byReason.set(reason, [...(byReason.get(reason) ?? []), id]);
  }
  return [...byReason].map(([reason, ids]) => ({ reason, ids }));
}

/** The value in a cell; where only the other revision has one, the reason. */
export function cellText(metric: Metric | undefined): string {
  const quantity = quantityOf(metric);
  if (quantity !== undefined) return writeQuantity(quantity);
  return metric?.notComputed ?? words.uncertaintyNotKnown;
}

export function metricIn(contraction: Contraction, id: string): Metric | undefined {
  return contraction.metrics.find((metric) => metric.id === id);
}

/** "calibration 83 %, noise 12 %, zero 5 %": the parts of an uncertainty by their share of its square, the largest first. */
export function budgetText(budget: readonly BudgetTerm[] | undefined): string | undefined {
  const parts = (budget ?? [])
    .filter((term) => term.share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share)
    .map((term) => `${term.term} ${writePercent(term.share * 100)}`);
  return parts.length === 0 ? undefined : `${words.budget}: ${parts.join(', ')}.`;
}

function allIds(revisions: readonly Contraction[]): readonly string[] {
  return [...new Set(revisions.flatMap((one) => one.metrics.map((metric) => metric.id)))];
}

/** "3 of 12". */
export function placeText(index: number, count: number): string {
  return index < 0 ? MINUS : `${index + 1} of ${count}`;
}

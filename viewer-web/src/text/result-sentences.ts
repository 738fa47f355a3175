/**
 * Results in words. The promise behind every sentence: no force without its uncertainty, and the device's uncertainty is
 * never passed off as the repeat error of people.
 */

import { isKnown, type Quantity, writeQuantity, writeSigned } from '../format/quantity';
import type { Contraction, Effort, Metric } from '../live/events';
import { words } from './words';

/** A metric as a quantity, where it was computed and says how well it is known. */
export function quantityOf(metric: Metric | undefined): (Quantity & { standardUncertainty: number }) | undefined {
  if (metric?.value === undefined || metric.standardUncertainty === undefined) return undefined;
  const quantity = { value: metric.value, standardUncertainty: metric.standardUncertainty, unit: metric.unit ?? '' };
  return isKnown(quantity) ? quantity : undefined;
}

export function metricOf(contraction: Contraction, id: string): Metric | undefined {
  return contraction.metrics.find((metric) => metric.id === id);
}

/** The value with its uncertainty, or why there is none. */
export function metricText(metric: Metric | undefined): string {
  if (metric === undefined) return words.noForce;
  if (metric.notComputed !== undefined) return `${words.notComputed}: ${metric.notComputed}`;
  const quantity = quantityOf(metric);
  return quantity === undefined ? words.uncertaintyNotKnown : writeQuantity(quantity);
}

/** The small label beside a contraction window: peak and duration, each with its uncertainty. */
export function windowLabel(contraction: Contraction): string {
  return [quantityOf(metricOf(contraction, 'force.peak')), quantityOf(metricOf(contraction, 'duration'))]
    .flatMap((quantity) => (quantity === undefined ? [] : [writeQuantity(quantity)]))
    .join(', ');
}

/** "Left 512.3(1.1) N for 3.210(0.012) s": what one limb did in an effort. */
export function limbPhrase(name: string, contraction: Contraction): string {
  const peak = metricOf(contraction, 'force.peak');
  const duration = quantityOf(metricOf(contraction, 'duration'));
  const force = quantityOf(peak);
  if (force === undefined) return `${name}: peak ${metricText(peak)}`;
  return `${name} ${writeQuantity(force)}${duration === undefined ? '' : ` for ${writeQuantity(duration)}`}`;
}

/** Signed asymmetry with its direction; no direction is claimed within twice the device uncertainty. */
export function asymmetrySentence(effort: Effort): string {
  const metric = effort.asymmetry;
  if (metric.notComputed !== undefined) return `Left against right: ${words.notComputed}, ${metric.notComputed}.`;
  const index = quantityOf(metric);
  if (index === undefined) return `Left against right: ${words.uncertaintyNotKnown}.`;
  const signed = `Left against right: ${writeSigned(index)}`;
  if (Math.abs(index.value) <= 2 * index.standardUncertainty) {
    return `${signed}, no difference beyond the device uncertainty.`;
  }
  return `${signed}, the ${index.value > 0 ? 'left' : 'right'} limb higher in this effort.`;
}

/** Which limb began first, where the times tell. */
export function lagSentence(effort: Effort): string | undefined {
  const { onsetLagS: value, onsetLagStandardUncertaintyS: standardUncertainty } = effort;
  if (value === undefined || standardUncertainty === undefined) return undefined;
  const lag = { value: Math.abs(value), standardUncertainty, unit: 's' };
  if (!isKnown(lag)) return undefined;
  if (lag.value <= 2 * lag.standardUncertainty) return 'Both began together as far as the clocks can tell.';
  const [first, second] = value < 0 ? ['Left', 'right'] : ['Right', 'left'];
  return `${first} began ${writeQuantity(lag)} before ${second}.`;
}

/** Words for what a reader must know about one contraction; empty where there is nothing. */
export function revisionText(contraction: Contraction): string | undefined {
  if (contraction.revision === 'provisional') return words.provisional;
  return contraction.revision === 'manual' ? words.manual : undefined;
}

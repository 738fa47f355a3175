/** What is said of one cell. Counts come with newtons beside them; the uncertainty of the slope does not matter here. */

import { writeCount, writePlain } from '../format/number';
import { decimalsFor, isKnown, withUnit, writeFixed, writeQuantity } from '../format/quantity';
import type { CellReport, Distribution } from '../live/cell-api';
import { words } from './words';

export type Fact = readonly [string, string];

/** A size with two significant digits: 0.083 N. */
export function twoDigits(value: number, unit: string): string {
  if (value === 0 || !Number.isFinite(value)) return withUnit(writeFixed(value, 0), unit);
  return withUnit(writeFixed(value, Math.max(0, decimalsFor(Math.abs(value)))), unit);
}

/** Counts, and newtons where the channel is calibrated. */
export function countsText(counts: number, report: CellReport): string {
  const size = Math.abs(counts) < 99.5 ? twoDigits(counts, words.counts) : withUnit(writeCount(counts), words.counts);
  return report.unit === 'N' ? `${size}, ${twoDigits(counts * report.unitPerCount, 'N')}` : size;
}

export function rangeFacts(report: CellReport): readonly Fact[] {
  const { newest, lowest, highest, samples, overloaded } = report.range;
  if (samples === 0) return [['samples', words.notKnown]];
  return [
    ['newest count', writeCount(newest)],
    ['lowest, highest', `${writeCount(lowest)}, ${writeCount(highest)}`],
    ['samples', writeCount(samples)],
    ['at the end of the range', writeCount(overloaded)],
    ['one count', report.unit === 'N' ? twoDigits(Math.abs(report.unitPerCount), 'N') : words.notCalibrated],
  ];
}

export function noiseFacts(report: CellReport): readonly Fact[] {
  const { noise, drift } = report;
  const facts: Fact[] = [];
  if (noise === undefined) {
    facts.push(['noise', words.notEnoughYet]);
  } else if (noise.moved) {
    facts.push(['noise', words.cellMoved], ['movement, 1 SD', countsText(noise.rmsCounts, report)]);
  } else {
    facts.push(
      ['noise, 1 SD', sdText(noise.rmsCounts, noise.rmsStandardUncertaintyCounts, report)],
      ['peak to peak', countsText(noise.peakToPeakCounts, report)],
      ['noise-free resolution', countsText(noise.noiseFreeCounts, report)],
    );
    if (report.ratedLoadN !== undefined && report.unit === 'N') {
      const steps = report.ratedLoadN / (noise.noiseFreeCounts * Math.abs(report.unitPerCount));
      facts.push(['steps over the rated load', writeCount(steps)]);
    }
    facts.push(['taken from', withUnit(writeFixed(noise.samples / report.sampleRateHz, 1), 's')]);
  }
  facts.push(['drift', driftText(report)]);
  facts.push(['range of the means', `${countsText(drift.rangeCounts, report)} in ${lengthText(drift.seconds)}`]);
  return facts;
}

/** A standard deviation with its own standard uncertainty, where that is told. */
function sdText(counts: number, u: number | undefined, report: CellReport): string {
  const inCounts = { value: counts, standardUncertainty: u ?? 0, unit: words.counts };
  if (!isKnown(inCounts)) return countsText(counts, report);
  if (report.unit !== 'N') return writeQuantity(inCounts);
  const size = Math.abs(report.unitPerCount);
  const inNewtons = { value: counts * size, standardUncertainty: inCounts.standardUncertainty * size, unit: 'N' };
  return `${writeQuantity(inCounts)}, ${writeQuantity(inNewtons)}`;
}

function driftText(report: CellReport): string {
  const { countsPerMinute } = report.drift;
  if (countsPerMinute === undefined) return words.notEnoughYet;
  return report.unit === 'N'
    ? twoDigits(countsPerMinute * report.unitPerCount, 'N/min')
    : twoDigits(countsPerMinute, `${words.counts}/min`);
}

function lengthText(seconds: number): string {
  return seconds < 120 ? withUnit(String(seconds), 's') : withUnit(writeFixed(seconds / 60, 0), 'min');
}

export function humText(report: CellReport): string {
  if (report.spectrum === undefined) return words.notEnoughYet;
  if (report.spectrum.hum.length === 0) return words.noHum;
  return report.spectrum.hum
    .map((line) => {
      const name = line.harmonic === 1 ? 'mains' : `${line.harmonic} \u00d7 mains`;
      return `${writeFixed(line.frequencyHz, 1)}\u00a0Hz (${name} ${line.mainsHz}): ${countsText(line.rmsCounts, report)}`;
    })
    .join('; ');
}

export function distributionText(of: Distribution): string {
  if (of.count === 0) return words.notKnown;
  const [p50, p99, max] = [of.p50Ms, of.p99Ms, of.maxMs].map((ms) => writePlain(ms, 'ms'));
  return `median ${p50}, 99 of 100 within ${p99}, longest ${max}`;
}

/** A number of an axis: as short as it can be. */
export function axisText(value: number): string {
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size < 0.001 || size >= 100_000) {
    const power = Math.floor(Math.log10(size) + 1e-9);
    const digit = Math.round(size / 10 ** power);
    const sign = value < 0 ? '\u2212' : '';
    return `${sign}${digit === 1 ? '' : `${digit}\u00b7`}10${superscript(power)}`;
  }
  return writeFixed(value, Math.max(0, -Math.floor(Math.log10(size) + 1e-9)));
}

const DIGITS = ['\u2070', '\u00b9', '\u00b2', '\u00b3', '\u2074', '\u2075', '\u2076', '\u2077', '\u2078', '\u2079'];

function superscript(power: number): string {
  const digits = [...String(Math.abs(power))].map((digit) => DIGITS[Number(digit)] ?? digit).join('');
  return power < 0 ? `\u207b${digits}` : digits;
}

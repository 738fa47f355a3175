/** Shapes of the charts of one cell, in a box of 100 by 100 with the origin at the top left. */

import type { CellReport, Distribution } from '../live/cell-api';

/** Steps of a logarithmic axis that are labelled. */
export interface Tick {
  readonly at: number;
  readonly value: number;
}

export interface Chart {
  readonly path: string;
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
}

const SIZE = 100;

/** Amplitude density, square root of the density, over frequency; both axes logarithmic. Frequency 0 is left out. */
export function spectrumChart(spectrum: NonNullable<CellReport['spectrum']>, unitPerCount: number): Chart | undefined {
  const points: [number, number][] = [];
  spectrum.density.forEach((density, k) => {
    if (k > 0 && density > 0) points.push([k * spectrum.stepHz, Math.sqrt(density) * Math.abs(unitPerCount)]);
  });
  const first = points[0];
  const last = points[points.length - 1];
  if (first === undefined || last === undefined || first === last) return undefined;
  const low = Math.floor(Math.log10(Math.min(...points.map(([, y]) => y))) + 1e-9);
  const high = Math.max(low + 1, Math.ceil(Math.log10(Math.max(...points.map(([, y]) => y))) - 1e-9));
  const x = logScale(Math.log10(first[0]), Math.log10(last[0]));
  const y = logScale(high, low);
  return {
    path: line(points.map(([hz, a]) => [x(hz), y(a)])),
    xTicks: decades(Math.ceil(Math.log10(first[0])), Math.floor(Math.log10(last[0])), x),
    yTicks: decades(low, high, y),
  };
}

/** Means of the cell over time, relative to the oldest shown, the newest at the right edge. */
export function driftChart(drift: CellReport['drift'], unitPerCount: number): Chart | undefined {
  const [oldest] = drift.meansCounts;
  const n = drift.meansCounts.length;
  if (oldest === undefined || n < 2) return undefined;
  const values = drift.meansCounts.map((mean) => (mean - oldest) * unitPerCount);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const span = Math.max(high - low, Math.abs(unitPerCount));
  const step = niceStep(span / 3);
  const from = Math.floor(low / step) * step;
  const to = Math.max(from + step, Math.ceil(high / step) * step);
  const x = (index: number): number => (index / (n - 1)) * SIZE;
  const y = (value: number): number => ((to - value) / (to - from)) * SIZE;
  const lengthS = (n - 1) * drift.stepS;
  const timeStep = niceStep(lengthS / 4);
  const xTicks: Tick[] = [];
  for (let s = 0; s <= lengthS; s += timeStep) xTicks.push({ at: SIZE - (s / lengthS) * SIZE, value: -s });
  const yTicks: Tick[] = [];
  for (let i = 0; from + i * step <= to + step / 2; i++)
    yTicks.push({ at: y(from + i * step), value: from + i * step });
  return { path: line(values.map((value, i) => [x(i), y(value)])), xTicks, yTicks };
}

/** Bars over a logarithmic time axis; the height is the share of the highest bin, its root, so that rare ones show. */
export function histogramChart(of: Distribution): Chart | undefined {
  const [first] = of.bins;
  const last = of.bins[of.bins.length - 1];
  if (first === undefined || last === undefined) return undefined;
  const low = Math.log10(first.fromMs) - 0.1;
  const high = Math.log10(last.toMs) + 0.1;
  const x = logScale(low, high);
  const most = Math.max(...of.bins.map((bin) => bin.count));
  const bars = of.bins.map((bin) => {
    const [a, b] = [x(bin.fromMs), x(bin.toMs)];
    const top = SIZE - Math.sqrt(bin.count / most) * SIZE;
    return `M${fixed(a)} ${SIZE}V${fixed(top)}H${fixed(b)}V${SIZE}Z`;
  });
  return { path: bars.join(''), xTicks: halfDecades(low, high, x), yTicks: [] };
}

function logScale(from: number, to: number): (value: number) => number {
  return (value) => ((Math.log10(value) - from) / (to - from)) * SIZE;
}

function decades(from: number, to: number, scale: (value: number) => number): Tick[] {
  const every = Math.max(1, Math.ceil((to - from) / 4));
  const ticks: Tick[] = [];
  for (let power = from; power <= to; power += every) ticks.push({ at: scale(10 ** power), value: 10 ** power });
  return ticks;
}

/** 1, 3, 10, 30, ...: a histogram may span less than a decade. */
function halfDecades(low: number, high: number, scale: (value: number) => number): Tick[] {
  const ticks: Tick[] = [];
  for (let power = Math.floor(low); power <= high; power++) {
    for (const digit of [1, 2, 5]) {
      const value = digit * 10 ** power;
      if (Math.log10(value) >= low && Math.log10(value) <= high) ticks.push({ at: scale(value), value });
    }
  }
  return ticks.filter((_, i) => ticks.length <= 5 || i % Math.ceil(ticks.length / 5) === 0);
}

/** 1, 2 or 5 times a power of ten, at least as large. */
function niceStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return power * ([1, 2, 5, 10].find((digit) => digit * power >= least * (1 - 1e-9)) ?? 10);
}

function line(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${fixed(x)} ${fixed(y)}`).join('');
}

function fixed(value: number): string {
  return value.toFixed(2);
}

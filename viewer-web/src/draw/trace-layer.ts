/** The lines of force against time. */

import type uPlot from 'uplot';
import type { TracePoints } from '../model/decimate';
import type { Palette } from './palette';

export interface Trace {
  readonly line: 'solid' | 'dashed';
  /** Drawn earlier by this much: the delay of the live trace's filter. */
  readonly delayS: number;
  readonly points: TracePoints;
  /** True where no samples come any more. */
  readonly stale: boolean;
}

export const LINE_WIDTH_PX = 1.75;
export const DASH_PX = [7, 4] as const;

/** Dashes begin anew at whole multiples of this share of the window, so that they move with the trace and never crawl. */
export const DASH_SPANS_PER_WINDOW = 10;

export function dashSpanS(windowS: number): number {
  return windowS / DASH_SPANS_PER_WINDOW;
}

export function drawTrace(plot: uPlot, trace: Trace, palette: Palette, spanS: number): void {
  const { ctx } = plot;
  ctx.lineWidth = LINE_WIDTH_PX * devicePixelRatio;
  ctx.lineJoin = 'bevel';
  ctx.lineCap = 'butt';
  ctx.strokeStyle = trace.stale ? palette.limbStale : colourOf(trace.line, palette);
  ctx.setLineDash(trace.line === 'dashed' ? DASH_PX.map((px) => px * devicePixelRatio) : []);
  if (trace.line === 'dashed') strokeInSpans(plot, trace, spanS);
  else strokeAll(plot, trace);
  ctx.setLineDash([]);
}

export function colourOf(line: Trace['line'], palette: Palette): string {
  return line === 'solid' ? palette.limbSolid : palette.limbDashed;
}

function strokeAll(plot: uPlot, { points, delayS }: Trace): void {
  const toCanvas = canvasMapping(plot);
  plot.ctx.beginPath();
  for (let i = 0; i < points.length; i++) {
    const x = toCanvas.x((points.timeS[i] ?? 0) - delayS);
    const y = toCanvas.y(points.forceN[i] ?? 0);
    if (i === 0 || points.breakBefore[i] === 1) plot.ctx.moveTo(x, y);
    else plot.ctx.lineTo(x, y);
  }
  plot.ctx.stroke();
}

function strokeInSpans(plot: uPlot, { points, delayS }: Trace, spanS: number): void {
  const toCanvas = canvasMapping(plot);
  let span = Number.NaN;
  let lastX = 0;
  let lastY = 0;
  plot.ctx.beginPath();
  for (let i = 0; i < points.length; i++) {
    const timeS = points.timeS[i] ?? 0;
    const x = toCanvas.x(timeS - delayS);
    const y = toCanvas.y(points.forceN[i] ?? 0);
    const pointSpan = Math.floor(timeS / spanS);
    const breaks = i === 0 || points.breakBefore[i] === 1;
    if (pointSpan !== span || breaks) {
      plot.ctx.moveTo(breaks ? x : lastX, breaks ? y : lastY);
      span = pointSpan;
    }
    plot.ctx.lineTo(x, y);
    lastX = x;
    lastY = y;
  }
  plot.ctx.stroke();
}

/** Times and forces to canvas pixels, worked out once per frame instead of once per point. */
export function canvasMapping(plot: uPlot): { x(timeS: number): number; y(forceN: number): number } {
  const { left, top, width, height } = plot.bbox;
  const fromS = plot.scales.x?.min ?? 0;
  const toS = plot.scales.x?.max ?? 1;
  const minN = plot.scales.y?.min ?? 0;
  const maxN = plot.scales.y?.max ?? 1;
  const perS = width / (toS - fromS);
  const perN = height / (maxN - minN);
  return { x: (timeS) => left + (timeS - fromS) * perS, y: (forceN) => top + height - (forceN - minN) * perN };
}

/** Everything that lies under the grid: the target band, contraction windows, and spans without samples. */

import type uPlot from 'uplot';
import type { Contraction, TargetEvent } from '../live/events';
import type { TracePoints } from '../model/decimate';
import type { Palette } from './palette';
import { canvasMapping, type Trace } from './trace-layer';

export function drawTarget(plot: uPlot, target: TargetEvent, palette: Palette): void {
  if (target.forceN === undefined) return;
  const { ctx, bbox } = plot;
  const toCanvas = canvasMapping(plot);
  const halfN = (target.forceN * (target.tolerancePercent ?? 0)) / 100;
  const top = toCanvas.y(target.forceN + halfN);
  const bottom = toCanvas.y(target.forceN - halfN);
  ctx.fillStyle = palette.targetShade;
  ctx.fillRect(bbox.left, top, bbox.width, Math.max(devicePixelRatio, bottom - top));
  ctx.strokeStyle = palette.targetLine;
  ctx.lineWidth = devicePixelRatio;
  for (const y of new Set([Math.round(top), Math.round(bottom)])) horizontal(plot, y + 0.5);
}

export function drawWindows(plot: uPlot, contractions: readonly Contraction[], endS: number, palette: Palette): void {
  const { ctx, bbox } = plot;
  const toCanvas = canvasMapping(plot);
  ctx.fillStyle = palette.windowShade;
  for (const { onsetS, offsetS } of contractions) {
    const left = Math.max(bbox.left, toCanvas.x(onsetS));
    const right = Math.min(bbox.left + bbox.width, toCanvas.x(offsetS ?? endS));
    if (right > left) ctx.fillRect(left, bbox.top, right - left, bbox.height);
  }
}

/** Shades where a trace has no samples: between its points at a gap, and from its last point on where it has ended. */
export function drawGaps(plot: uPlot, trace: Trace, endS: number, lateAfterS: number, palette: Palette): void {
  const { points, delayS } = trace;
  plot.ctx.fillStyle = palette.gapShade;
  for (let i = 1; i < points.length; i++) {
    if (points.breakBefore[i] === 1) shade(plot, pointS(points, i - 1) - delayS, pointS(points, i) - delayS);
  }
  if (points.length === 0) return;
  const lastS = pointS(points, points.length - 1) - delayS;
  if (trace.stale || endS - lastS > lateAfterS) shade(plot, lastS, endS);
}

function shade(plot: uPlot, fromS: number, toS: number): void {
  const { bbox } = plot;
  const toCanvas = canvasMapping(plot);
  const left = Math.max(bbox.left, toCanvas.x(fromS));
  const right = Math.min(bbox.left + bbox.width, toCanvas.x(toS));
  if (right > left) plot.ctx.fillRect(left, bbox.top, right - left, bbox.height);
}

function pointS(points: TracePoints, i: number): number {
  return points.timeS[i] ?? 0;
}

function horizontal(plot: uPlot, y: number): void {
  plot.ctx.beginPath();
  plot.ctx.moveTo(plot.bbox.left, y);
  plot.ctx.lineTo(plot.bbox.left + plot.bbox.width, y);
  plot.ctx.stroke();
}

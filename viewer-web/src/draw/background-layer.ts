/** Everything that lies under the grid: the target band, contraction windows, and spans without samples. */

import type uPlot from 'uplot';
import type { Contraction, TargetEvent } from '../live/events';
import type { TracePoints } from '../model/decimate';
import type { Palette } from './palette';
import { canvasMapping, type Trace } from './trace-layer';

const HATCH_PX = 9;
const GAP_ROW_PX = 22;

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

/**
 * Hatches where a trace has no samples: between its points at a gap, and from its last point on where it has ended. The
 * words say whose samples are missing; each trace has a row of its own for them.
 */
export function drawGaps(plot: uPlot, trace: Trace, gaps: GapStyle): void {
  const { points, delayS } = trace;
  for (let i = 1; i < points.length; i++) {
    if (points.breakBefore[i] === 1) hatch(plot, pointS(points, i - 1) - delayS, pointS(points, i) - delayS, gaps);
  }
  if (points.length === 0) return;
  const lastS = pointS(points, points.length - 1) - delayS;
  if (trace.stale || gaps.endS - lastS > gaps.lateAfterS) hatch(plot, lastS, gaps.endS, gaps);
}

export interface GapStyle {
  readonly endS: number;
  readonly lateAfterS: number;
  readonly words: string;
  readonly row: number;
  readonly palette: Palette;
}

function hatch(plot: uPlot, fromS: number, toS: number, { words, row, palette }: GapStyle): void {
  const { ctx, bbox } = plot;
  const px = devicePixelRatio;
  const toCanvas = canvasMapping(plot);
  const left = Math.max(bbox.left, toCanvas.x(fromS));
  const right = Math.min(bbox.left + bbox.width, toCanvas.x(toS));
  if (right <= left) return;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, bbox.top, right - left, bbox.height);
  ctx.clip();
  ctx.strokeStyle = palette.gapLine;
  ctx.lineWidth = px;
  ctx.beginPath();
  // The lines hang on the time axis, so that they move with the trace.
  const spacing = HATCH_PX * px;
  const phase = ((toCanvas.x(0) % spacing) + spacing) % spacing;
  const first = Math.floor((left - bbox.height) / spacing) * spacing + phase;
  for (let x = first; x < right; x += spacing) {
    ctx.moveTo(x, bbox.top + bbox.height);
    ctx.lineTo(x + bbox.height, bbox.top);
  }
  ctx.stroke();
  ctx.restore();
  writeInGap(plot, words, left, right, bbox.top + (GAP_ROW_PX * row + 6) * px, palette);
}

function writeInGap(plot: uPlot, words: string, left: number, right: number, top: number, palette: Palette): void {
  const { ctx } = plot;
  const px = devicePixelRatio;
  ctx.font = `${palette.fontSizePx * px}px ${palette.font}`;
  const width = ctx.measureText(words).width;
  if (width + 16 * px > right - left) return;
  ctx.fillStyle = palette.ground;
  ctx.fillRect(left + 4 * px, top, width + 8 * px, (palette.fontSizePx + 6) * px);
  ctx.fillStyle = palette.ink;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'top';
  ctx.fillText(words, left + 8 * px, top + 3 * px);
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

/** What is drawn on the trace of one contraction: its window, its resting level, and where its metrics were taken from. */

import type uPlot from 'uplot';
import type { Mark } from '../live/review-api';
import type { Boundaries } from '../model/review';
import type { Palette } from './palette';
import { canvasMapping } from './trace-layer';

const TICK_PX = 5;
const DOT_PX = 3.5;
const FOUND_DASH_PX = [2, 4];

/** Shades the window; where a person has moved a boundary, thin dashed lines stay where the station had found it. */
export function drawWindow(plot: uPlot, inForce: Boundaries, found: Boundaries | undefined, palette: Palette): void {
  const { ctx, bbox } = plot;
  const toCanvas = canvasMapping(plot);
  const left = clamp(toCanvas.x(inForce.onset), bbox.left, bbox.left + bbox.width);
  const right = clamp(toCanvas.x(inForce.offset), bbox.left, bbox.left + bbox.width);
  ctx.fillStyle = palette.windowShade;
  ctx.fillRect(left, bbox.top, right - left, bbox.height);
  if (found === undefined) return;
  ctx.strokeStyle = palette.inkSoft;
  ctx.lineWidth = devicePixelRatio;
  ctx.setLineDash(FOUND_DASH_PX.map((px) => px * devicePixelRatio));
  for (const name of ['onset', 'release', 'offset'] as const) {
    if (Math.abs(found[name] - inForce[name]) > 1e-9) vertical(plot, toCanvas.x(found[name]));
  }
  ctx.setLineDash([]);
}

/** The level that the force rested on, from the first sample shown to the onset. */
export function drawRest(plot: uPlot, onsetS: number, restN: number, palette: Palette): void {
  const { ctx, bbox } = plot;
  const toCanvas = canvasMapping(plot);
  const y = Math.round(toCanvas.y(restN)) + 0.5;
  ctx.strokeStyle = palette.inkSoft;
  ctx.lineWidth = devicePixelRatio;
  ctx.beginPath();
  ctx.moveTo(bbox.left, y);
  ctx.lineTo(Math.min(bbox.left + bbox.width, Math.max(bbox.left, toCanvas.x(onsetS))), y);
  ctx.stroke();
}

/** The marks of all metrics, thin; the chosen one strong. Its words stand below the plot, where they cover nothing. */
export function drawMarks(plot: uPlot, marks: readonly Mark[], chosen: string | undefined, palette: Palette): void {
  for (const mark of marks) if (mark.id !== chosen) drawMark(plot, mark, palette.inkSoft, 1);
  for (const mark of marks) if (mark.id === chosen) drawMark(plot, mark, palette.ink, 2.5);
}

function drawMark(plot: uPlot, mark: Mark, colour: string, widthPx: number): void {
  const { ctx } = plot;
  const px = devicePixelRatio;
  const toCanvas = canvasMapping(plot);
  const [x0, x1] = [toCanvas.x(mark.fromS), toCanvas.x(mark.toS)];
  const [y0, y1] = [toCanvas.y(mark.fromN), toCanvas.y(mark.toN)];
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  ctx.lineWidth = widthPx * px;
  ctx.beginPath();
  if (mark.kind === 'point') {
    ctx.arc(x0, y0, DOT_PX * px, 0, 2 * Math.PI);
    ctx.fill();
    return;
  }
  ctx.moveTo(x0, y0);
  ctx.lineTo(x1, y1);
  if (mark.kind === 'level') {
    for (const x of [x0, x1]) {
      ctx.moveTo(x, y0 - TICK_PX * px);
      ctx.lineTo(x, y0 + TICK_PX * px);
    }
  }
  ctx.stroke();
  if (mark.kind === 'slope') {
    ctx.beginPath();
    ctx.arc(x1, y1, 0.7 * DOT_PX * px, 0, 2 * Math.PI);
    ctx.fill();
  }
}

function vertical(plot: uPlot, x: number): void {
  const { ctx, bbox } = plot;
  if (x < bbox.left || x > bbox.left + bbox.width) return;
  ctx.beginPath();
  ctx.moveTo(Math.round(x) + 0.5, bbox.top);
  ctx.lineTo(Math.round(x) + 0.5, bbox.top + bbox.height);
  ctx.stroke();
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

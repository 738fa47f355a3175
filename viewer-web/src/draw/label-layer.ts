/** What stands above the lines: a lane of windows with their measured labels per limb, peak markers, and marks. */

import type uPlot from 'uplot';
import { writeQuantity } from '../format/quantity';
import type { Contraction, MarkEvent } from '../live/events';
import { metricOf, quantityOf, windowLabel } from '../text/result-sentences';
import type { Palette } from './palette';
import { LANE_GAP_PX, LANE_PX } from './plot-frame';
import { canvasMapping, colourOf, DASH_PX, type Trace } from './trace-layer';

const MARKER_PX = 4;
const LABEL_GAP_PX = 10;

/** Canvas y of the line of a lane; the text of the lane stands on it. */
export function laneFoot(plot: uPlot, lane: number): number {
  return plot.bbox.top - ((1 - lane) * LANE_PX + LANE_GAP_PX) * devicePixelRatio;
}

/** One lane: brackets over the windows, and beside each as much of its label as has room before the next. */
export function drawLane(
  plot: uPlot,
  lane: number,
  line: Trace['line'],
  contractions: readonly Contraction[],
  endS: number,
  palette: Palette,
): void {
  const { ctx, bbox } = plot;
  const px = devicePixelRatio;
  const toCanvas = canvasMapping(plot);
  const right = bbox.left + bbox.width;
  const y = Math.round(laneFoot(plot, lane));
  ctx.lineWidth = 2 * px;
  ctx.font = `${palette.fontSizePx * px}px ${palette.font}`;
  ctx.textBaseline = 'alphabetic';
  ctx.textAlign = 'left';
  for (let i = 0; i < contractions.length; i++) {
    const one = contractions[i];
    if (one === undefined) continue;
    const from = Math.max(bbox.left, toCanvas.x(one.onsetS));
    const to = Math.min(right, toCanvas.x(one.offsetS ?? endS));
    if (to <= from) continue;
    ctx.strokeStyle = colourOf(line, palette);
    ctx.setLineDash(line === 'dashed' ? DASH_PX.map((dash) => dash * px) : []);
    ctx.beginPath();
    ctx.moveTo(from, y);
    ctx.lineTo(to, y);
    ctx.stroke();
    const next = contractions[i + 1];
    const room = (next === undefined ? right : Math.min(right, toCanvas.x(next.onsetS))) - from;
    const label = fitting(ctx, labels(one), room - (next === undefined ? 0 : LABEL_GAP_PX * px));
    ctx.fillStyle = palette.ink;
    if (label !== undefined) ctx.fillText(label, from, y - 6 * px);
  }
  ctx.setLineDash([]);
}

/** The marker of a peak: a dot for the solid limb, a ring for the dashed one, with the interval k = 2 where it is visible. */
export function drawPeak(
  plot: uPlot,
  timeS: number,
  contraction: Contraction,
  line: Trace['line'],
  palette: Palette,
): void {
  const peak = quantityOf(metricOf(contraction, 'force.peak'));
  if (peak === undefined) return;
  const { ctx } = plot;
  const px = devicePixelRatio;
  const toCanvas = canvasMapping(plot);
  const x = toCanvas.x(timeS);
  const y = toCanvas.y(peak.value);
  const half = Math.abs(toCanvas.y(0) - toCanvas.y(2 * peak.standardUncertainty));
  ctx.strokeStyle = colourOf(line, palette);
  ctx.lineWidth = 1.5 * px;
  if (half > MARKER_PX * px) {
    ctx.beginPath();
    ctx.moveTo(x, y - half);
    ctx.lineTo(x, y + half);
    ctx.stroke();
  }
  ctx.beginPath();
  ctx.arc(x, y, (MARKER_PX + 1.5) * px, 0, 2 * Math.PI);
  ctx.fillStyle = palette.ground;
  ctx.fill();
  ctx.beginPath();
  ctx.arc(x, y, MARKER_PX * px, 0, 2 * Math.PI);
  ctx.fillStyle = line === 'solid' ? palette.limbSolid : palette.ground;
  ctx.fill();
  ctx.stroke();
}

/** Marks stand at the foot of the plot: a short line and the words. */
export function drawMarks(plot: uPlot, marks: readonly MarkEvent[], palette: Palette): void {
  const { ctx, bbox } = plot;
  const px = devicePixelRatio;
  const toCanvas = canvasMapping(plot);
  const foot = bbox.top + bbox.height;
  ctx.font = `${palette.fontSizePx * px}px ${palette.font}`;
  ctx.fillStyle = palette.inkSoft;
  ctx.strokeStyle = palette.inkSoft;
  ctx.lineWidth = px;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  for (let i = 0; i < marks.length; i++) {
    const mark = marks[i];
    if (mark === undefined) continue;
    const x = Math.round(toCanvas.x(mark.atS)) + 0.5;
    if (x < bbox.left || x > bbox.left + bbox.width) continue;
    ctx.beginPath();
    ctx.moveTo(x, foot - 36 * px);
    ctx.lineTo(x, foot);
    ctx.stroke();
    const next = marks[i + 1];
    const room = (next === undefined ? bbox.left + bbox.width : toCanvas.x(next.atS)) - x - LABEL_GAP_PX * px;
    const text = shortened(ctx, mark.text, room);
    if (text !== undefined) ctx.fillText(text, x + 5 * px, foot - 26 * px);
  }
}

/** From the fullest label to the shortest. */
function labels(contraction: Contraction): string[] {
  const peak = quantityOf(metricOf(contraction, 'force.peak'));
  return [windowLabel(contraction), ...(peak === undefined ? [] : [writeQuantity(peak)])].filter((text) => text !== '');
}

function fitting(ctx: CanvasRenderingContext2D, candidates: readonly string[], room: number): string | undefined {
  return candidates.find((text) => ctx.measureText(text).width <= room);
}

function shortened(ctx: CanvasRenderingContext2D, text: string, room: number): string | undefined {
  let short = text;
  while (short.length > 0 && ctx.measureText(short).width > room) short = short.slice(0, -1);
  if (short === text) return text;
  return short.length > 3 ? `${short.slice(0, -1)}\u2026` : undefined;
}

/**
 * uPlot as a frame: axes, grid, scales and sizes. The traces are drawn by our own layers in its canvas, because both
 * limbs have their own sample times, gaps must stay open, and a scrolling line must not shimmer.
 */

import uPlot from 'uplot';
import { writeFixed } from '../format/quantity';
import { writeElapsed } from '../format/time';
import { gridSteps } from '../model/force-scale';
import { words } from '../text/words';
import type { Palette } from './palette';

/** What one frame shows. */
export interface Range {
  readonly fromS: number;
  readonly toS: number;
  readonly minN: number;
  readonly maxN: number;
  /** False while the right edge is now. */
  readonly held: boolean;
  /** Where the time axis has its zero, if not at the start of the session: labels are seconds from there. */
  readonly originS?: number;
}

/** Draws into the canvas of the plot; `under` comes before the grid, `over` after it. */
export interface Layers {
  readonly under: (plot: uPlot) => void;
  readonly over: (plot: uPlot) => void;
}

/** Space above the plot for the lanes of contraction windows, in CSS pixels. */
export const LANE_PX = 26;
/** Space between the lanes and the plot. */
export const LANE_GAP_PX = 14;
const LANES = 2;
const ABOUT_PX_PER_GRIDLINE = 64;

export class PlotFrame {
  readonly plot: uPlot;
  private range: Range = { fromS: 0, toS: 10, minN: -10, maxN: 200, held: false };

  constructor(
    host: HTMLElement,
    private palette: Palette,
    layers: Layers,
  ) {
    const options: uPlot.Options = {
      width: Math.max(1, host.clientWidth),
      height: Math.max(1, host.clientHeight),
      padding: [LANE_PX * LANES + LANE_GAP_PX, 22, 0, 0],
      cursor: { show: false },
      legend: { show: false },
      scales: {
        x: { time: false, auto: false, range: () => [this.range.fromS, this.range.toS] },
        y: { auto: false, range: () => [this.range.minN, this.range.maxN] },
      },
      axes: [this.timeAxis(), this.forceAxis()],
      series: [{}, { show: false }],
      hooks: {
        drawClear: [(plot) => undisturbed(plot, layers.under)],
        draw: [(plot) => undisturbed(plot, layers.over)],
      },
    };
    this.plot = new uPlot(
      options,
      [
        [0, 1],
        [null, null],
      ],
      host,
    );
  }

  setPalette(palette: Palette): void {
    this.palette = palette;
  }

  setSize(width: number, height: number): void {
    if (width > 0 && height > 0) this.plot.setSize({ width, height });
  }

  show(range: Range): void {
    this.range = range;
    this.plot.batch(() => {
      this.plot.setScale('x', { min: range.fromS, max: range.toS });
      this.plot.setScale('y', { min: range.minN, max: range.maxN });
    });
  }

  destroy(): void {
    this.plot.destroy();
  }

  private timeAxis(): uPlot.Axis {
    return {
      ...this.axisStyle(),
      size: 34,
      splits: () => timeSplits(this.range, this.plotWidthPx()),
      values: (_plot, splits) => splits.map((timeS) => timeLabel(timeS, this.range)),
    };
  }

  private forceAxis(): uPlot.Axis {
    return {
      ...this.axisStyle(),
      size: (_plot, values) => 22 + 8 * Math.max(3, ...(values ?? []).map((text) => text.length)),
      splits: () => gridSteps(this.range.minN, this.range.maxN, this.plotHeightPx() / ABOUT_PX_PER_GRIDLINE),
      values: (_plot, splits) => splits.map((forceN) => writeFixed(forceN, 0)),
    };
  }

  private axisStyle(): uPlot.Axis {
    return {
      font: `${this.palette.fontSizePx}px ${this.palette.font}`,
      stroke: () => this.palette.inkSoft,
      grid: { stroke: () => this.palette.hairline, width: 1 },
      ticks: { show: false },
      gap: 8,
    };
  }

  private plotWidthPx(): number {
    return this.plot.bbox.width / devicePixelRatio;
  }

  private plotHeightPx(): number {
    return this.plot.bbox.height / devicePixelRatio;
  }
}

/** uPlot remembers which pens it has set, and would draw its grid with ours. */
function undisturbed(plot: uPlot, draw: (plot: uPlot) => void): void {
  plot.ctx.save();
  draw(plot);
  plot.ctx.restore();
}

type TimeRange = Pick<Range, 'fromS' | 'toS' | 'held' | 'originS'>;

/** Live, the gridlines stand still at whole steps before now; held, they stand at whole steps of session time. */
export function timeSplits(range: TimeRange, widthPx: number): number[] {
  const lengthS = range.toS - range.fromS;
  const { originS } = range;
  if (originS !== undefined) {
    const steps = gridSteps(range.fromS - originS, range.toS - originS, Math.max(3, Math.min(8, widthPx / 80)));
    return steps.map((afterS) => originS + afterS);
  }
  const about = Math.max(2, Math.min(6, widthPx / 110));
  if (range.held) return gridSteps(range.fromS, range.toS, about);
  return gridSteps(-lengthS, 0, about).map((beforeS) => range.toS + beforeS);
}

export function timeLabel(timeS: number, range: TimeRange): string {
  if (range.originS !== undefined) {
    const lengthS = range.toS - range.fromS;
    return `${writeFixed(timeS - range.originS, lengthS < 1 ? 2 : lengthS < 6 ? 1 : 0)}\u00a0s`;
  }
  if (range.held) return writeElapsed(timeS + 1e-6, range.toS - range.fromS < 4);
  const beforeS = range.toS - timeS;
  if (beforeS < 1e-6) return words.now;
  return `${writeFixed(-beforeS, Number.isInteger(Math.round(beforeS * 10) / 10) ? 0 : 1)}\u00a0s`;
}

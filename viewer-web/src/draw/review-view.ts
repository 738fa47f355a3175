/** The trace of one contraction under review: its own samples, unfiltered, on a time axis that begins at the onset found. */

import type uPlot from 'uplot';
import type { Mark, Samples } from '../live/review-api';
import { decimate, TracePoints } from '../model/decimate';
import { ForceScale } from '../model/force-scale';
import { type Boundaries, forceExtremes, ringOf } from '../model/review';
import type { TraceRing } from '../model/trace-ring';
import { drawGaps } from './background-layer';
import { drawMarks, drawRest, drawWindow } from './mark-layer';
import { type Palette, readPalette } from './palette';
import { PlotFrame } from './plot-frame';
import { dashSpanS, drawTrace } from './trace-layer';

const LEAST_RANGE_N = 20;

/** What one drawing shows. */
export interface ReviewScene {
  readonly samples: Samples;
  readonly line: 'solid' | 'dashed';
  readonly fromS: number;
  readonly toS: number;
  /** As the station found them: the axis begins at this onset. */
  readonly found: Boundaries;
  readonly inForce: Boundaries;
  readonly restN: number | undefined;
  readonly marks: readonly Mark[];
  readonly chosen: string | undefined;
  readonly gapWords: string;
}

/** The plotting area within the host, in CSS pixels. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export class ReviewView {
  private readonly frame: PlotFrame;
  private palette: Palette;
  private scene: ReviewScene | undefined;
  private ring: TraceRing | undefined;
  private ringSamples: Samples | undefined;
  private readonly points = new TracePoints();

  constructor(private readonly host: HTMLElement) {
    this.palette = readPalette(host);
    this.frame = new PlotFrame(host, this.palette, {
      under: (plot) => this.drawUnder(plot),
      over: (plot) => this.drawOver(plot),
    });
  }

  refreshColours(): void {
    this.palette = readPalette(this.host);
    this.frame.setPalette(this.palette);
    if (this.scene) this.draw(this.scene);
  }

  resize(): void {
    this.frame.setSize(this.host.clientWidth, this.host.clientHeight);
    if (this.scene) this.draw(this.scene);
  }

  destroy(): void {
    this.frame.destroy();
  }

  area(): Area {
    const { left, top, width, height } = this.frame.plot.bbox;
    const px = devicePixelRatio;
    return { left: left / px, top: top / px, width: width / px, height: height / px };
  }

  draw(scene: ReviewScene): void {
    this.scene = scene;
    if (this.ringSamples !== scene.samples) {
      this.ring = ringOf(scene.samples);
      this.ringSamples = scene.samples;
    }
    const { fromS, toS } = scene;
    const { lowN, highN } = forceExtremes(scene.samples, fromS, toS);
    // A scale of its own for each drawing: forces of one contraction are not compared with those of another by height.
    const { minN, maxN } = new ForceScale(LEAST_RANGE_N).update(lowN, highN, 0);
    this.frame.show({ fromS, toS, minN, maxN, held: true, originS: scene.found.onset });
  }

  private drawUnder(plot: uPlot): void {
    const { scene } = this;
    if (scene === undefined || this.ring === undefined) return;
    const widthPx = Math.max(1, plot.bbox.width / devicePixelRatio);
    const columnS = (scene.toS - scene.fromS) / widthPx;
    decimate(this.ring, { fromS: scene.fromS, toS: scene.toS, columnS, flatN: 0 }, this.points);
    drawWindow(plot, scene.inForce, scene.found, this.palette);
    const gaps = { endS: scene.toS, lateAfterS: Number.POSITIVE_INFINITY, words: scene.gapWords, row: 0 };
    drawGaps(plot, this.trace(scene), { ...gaps, palette: this.palette });
  }

  private drawOver(plot: uPlot): void {
    const { scene } = this;
    if (scene === undefined) return;
    const { ctx, bbox } = plot;
    ctx.save();
    ctx.beginPath();
    ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
    ctx.clip();
    drawTrace(plot, this.trace(scene), this.palette, dashSpanS(scene.toS - scene.fromS));
    if (scene.restN !== undefined) drawRest(plot, scene.inForce.onset, scene.restN, this.palette);
    drawMarks(plot, scene.marks, scene.chosen, this.palette);
    ctx.restore();
  }

  private trace(scene: ReviewScene) {
    return { line: scene.line, delayS: 0, points: this.points, stale: false };
  }
}

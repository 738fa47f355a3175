/** One frame of the trace: what is in view, on which scale, in which order it is drawn. */

import type uPlot from 'uplot';
import type { Contraction } from '../live/events';
import { decimate, TracePoints } from '../model/decimate';
import { ForceScale } from '../model/force-scale';
import { peakTimeS } from '../model/peak-time';
import { reviewable } from '../model/review';
import type { ShownChannel } from '../model/station-state';
import { isHeld } from '../model/view-state';
import type { ViewerModel } from '../model/viewer-model';
import { words } from '../text/words';
import { drawGaps, drawTarget, drawWindows } from './background-layer';
import { drawLane, drawMarks, drawPeak, laneFoot } from './label-layer';
import { type Palette, readPalette } from './palette';
import { PlotFrame } from './plot-frame';
import { dashSpanS, drawTrace, type Trace } from './trace-layer';

const LEAST_RANGE = { N: 200, count: 10_000 } as const;
const FLAT_PX = 0.75;
/** Samples later than this are missing, not merely under way. */
const LATE_AFTER_S = 0.5;

interface Shown extends Trace {
  readonly name: string;
  readonly contractions: readonly Contraction[];
}

export class TraceView {
  private readonly frame: PlotFrame;
  private palette: Palette;
  private scale = new ForceScale(LEAST_RANGE.N);
  private scaleUnit: 'N' | 'count' = 'N';
  private traces: Shown[] = [];
  private endS = 0;
  private windowS = 10;
  private newtonPerPx = 1;
  private readonly points = new Map<number, TracePoints>();
  private readonly peaks = new Map<string, number | undefined>();
  private drawnKey = '';

  constructor(
    private readonly host: HTMLElement,
    private readonly model: ViewerModel,
  ) {
    this.palette = readPalette(host);
    this.frame = new PlotFrame(host, this.palette, {
      under: (plot) => this.drawUnder(plot),
      over: (plot) => this.drawOver(plot),
    });
  }

  /** The element that takes pointers: the plot without its axes. */
  get pointerArea(): HTMLElement {
    return this.frame.plot.over;
  }

  refreshColours(): void {
    this.palette = readPalette(this.host);
    this.frame.setPalette(this.palette);
    this.drawnKey = '';
  }

  resize(): void {
    this.frame.setSize(this.host.clientWidth, this.host.clientHeight);
    this.drawnKey = '';
  }

  destroy(): void {
    this.frame.destroy();
  }

  /** The finished contraction under a point of the page; of two at one time, the one whose trace is nearer. */
  contractionAt(clientX: number, clientY: number): number | undefined {
    const box = this.pointerArea.getBoundingClientRect();
    const timeS = this.endS - this.windowS + ((clientX - box.left) / box.width) * this.windowS;
    const { min = 0, max = 1 } = this.frame.plot.scales.y ?? {};
    const forceN = (max ?? 1) - ((clientY - box.top) / box.height) * ((max ?? 1) - (min ?? 0));
    let best: number | undefined;
    let bestAwayN = Number.POSITIVE_INFINITY;
    for (const trace of this.traces) {
      const found = reviewable(trace.contractions).find(
        (one) => one.onsetS <= timeS && timeS <= (one.offsetS ?? timeS),
      );
      const awayN = Math.abs(forceNear(trace, timeS) - forceN);
      if (found === undefined || awayN > bestAwayN) continue;
      best = found.id;
      bestAwayN = awayN;
    }
    return best;
  }

  /** Draws what belongs to this moment; does nothing where that is what was drawn last. */
  draw(perfS: number): void {
    const view = this.model.view.value;
    this.windowS = view.windowS;
    this.endS = this.model.edgeS(perfS);
    const stationRevision = this.revisionOf(this.model.station.value);
    const key = `${this.endS} ${this.windowS} ${isHeld(view) ? stationRevision : perfS}`;
    if (key === this.drawnKey) return;
    this.drawnKey = key;
    this.collect();
    const { minN, maxN } = this.forceRange(perfS);
    const heightPx = Math.max(1, this.frame.plot.bbox.height / devicePixelRatio);
    this.newtonPerPx = (maxN - minN) / heightPx;
    this.frame.show({ fromS: this.endS - this.windowS, toS: this.endS, minN, maxN, held: isHeld(view) });
  }

  private revision = 0;
  private lastState: unknown;

  /** A held view changes only when the station's state does (a result was refined, a mark set). */
  private revisionOf(state: unknown): number {
    if (state !== this.lastState) this.revision++;
    this.lastState = state;
    return this.revision;
  }

  private collect(): void {
    const state = this.model.station.value;
    const shown = this.model.shown.value;
    const unit = shown.some((one) => one.channel.unit === 'N') ? 'N' : 'count';
    if (unit !== this.scaleUnit) this.scale = new ForceScale(LEAST_RANGE[unit]);
    this.scaleUnit = unit;
    const disconnected = this.model.connection.value.kind !== 'open';
    this.traces = shown
      .filter((one) => one.channel.unit === unit)
      .map((one) => {
        const link = state.links.find((known) => known.link === one.channel.link);
        return {
          name: one.limb === 'left' ? words.left : one.limb === 'right' ? words.right : one.channel.name,
          line: one.line,
          delayS: one.channel.traceDelayS ?? 0,
          points: this.pointsOf(one),
          stale: disconnected || (link !== undefined && link.state !== 'streaming'),
          contractions: this.contractionsOf(one.channel.channel),
        };
      });
  }

  private pointsOf(one: ShownChannel): TracePoints {
    const channel = one.channel.channel;
    const points = this.points.get(channel) ?? new TracePoints();
    this.points.set(channel, points);
    points.length = 0;
    const ring = this.model.rings.get(channel);
    if (ring === undefined) return points;
    const delayS = one.channel.traceDelayS ?? 0;
    const spanS = dashSpanS(this.windowS);
    const widthPx = Math.max(1, this.frame.plot.bbox.width / devicePixelRatio);
    const fromS = Math.floor((this.endS - this.windowS + delayS) / spanS) * spanS;
    decimate(
      ring,
      {
        fromS,
        toS: this.endS + delayS,
        columnS: this.windowS / widthPx,
        flatN: FLAT_PX * this.newtonPerPx,
      },
      points,
    );
    return points;
  }

  private contractionsOf(channel: number): readonly Contraction[] {
    const fromS = this.endS - this.windowS;
    return this.model.station.value.contractions.filter(
      (one) => one.channel === channel && one.onsetS < this.endS && (one.offsetS ?? this.endS) > fromS,
    );
  }

  private forceRange(perfS: number): { minN: number; maxN: number } {
    let low = 0;
    let high = 0;
    for (const { points } of this.traces) {
      for (let i = 0; i < points.length; i++) {
        const forceN = points.forceN[i] ?? 0;
        if (forceN < low) low = forceN;
        else if (forceN > high) high = forceN;
      }
    }
    const target = this.model.station.value.target;
    if (this.scaleUnit === 'N' && target?.forceN !== undefined) {
      high = Math.max(high, target.forceN * (1 + (target.tolerancePercent ?? 0) / 100));
    }
    return this.scale.update(low, high, perfS);
  }

  private drawUnder(plot: uPlot): void {
    const target = this.model.station.value.target;
    if (target && this.scaleUnit === 'N') drawTarget(plot, target, this.palette);
    for (const trace of this.traces) drawWindows(plot, trace.contractions, this.endS, this.palette);
    this.traces.forEach((trace, row) => {
      const text = words.noSamplesOf(trace.name);
      drawGaps(plot, trace, { endS: this.endS, lateAfterS: LATE_AFTER_S, words: text, row, palette: this.palette });
    });
  }

  private drawOver(plot: uPlot): void {
    const { ctx, bbox } = plot;
    ctx.save();
    ctx.beginPath();
    ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
    ctx.clip();
    // The dashed line comes last: where both limbs agree its dashes must not vanish under the solid one.
    const spanS = dashSpanS(this.windowS);
    for (const trace of this.traces) drawTrace(plot, trace, this.palette, spanS);
    for (const trace of this.traces) this.drawPeaks(plot, trace);
    drawMarks(plot, this.model.station.value.marks, this.palette);
    ctx.restore();
    this.traces.forEach((trace, lane) => {
      drawLane(plot, lane, trace.line, trace.contractions, this.endS, this.palette);
      this.drawLaneName(plot, lane, trace.name);
    });
  }

  private drawLaneName(plot: uPlot, lane: number, name: string): void {
    const { ctx, bbox } = plot;
    const px = devicePixelRatio;
    ctx.font = `${this.palette.fontSizePx * px}px ${this.palette.font}`;
    ctx.fillStyle = this.palette.inkSoft;
    ctx.textAlign = 'right';
    ctx.textBaseline = 'alphabetic';
    if (ctx.measureText(name).width > bbox.left - 12 * px) return;
    ctx.fillText(name, bbox.left - 10 * px, laneFoot(plot, lane) - 2 * px);
  }

  private drawPeaks(plot: uPlot, trace: Shown): void {
    for (const contraction of trace.contractions) {
      const timeS = this.peakOf(contraction, trace);
      if (timeS !== undefined) drawPeak(plot, timeS, contraction, trace.line, this.palette);
    }
  }

  /** Searched once per revision of a finished contraction: the trace behind it does not change any more. */
  private peakOf(contraction: Contraction, trace: Shown): number | undefined {
    if (contraction.offsetS === undefined) return undefined;
    const key = `${contraction.id} ${contraction.revision} ${contraction.onsetS} ${contraction.offsetS}`;
    if (this.peaks.has(key)) return this.peaks.get(key);
    const ring = this.model.rings.get(contraction.channel);
    if (ring === undefined || ring.lastS < contraction.offsetS + trace.delayS) return undefined;
    const found = peakTimeS(ring, contraction.onsetS + trace.delayS, contraction.offsetS + trace.delayS);
    const timeS = found === undefined ? undefined : found - trace.delayS;
    if (this.peaks.size > 500) this.peaks.clear();
    this.peaks.set(key, timeS);
    return timeS;
  }
}

/** Force of the drawn point that is nearest to a time. */
function forceNear({ points, delayS }: Trace, timeS: number): number {
  let nearest = 0;
  let awayS = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points.length; i++) {
    const away = Math.abs((points.timeS[i] ?? 0) - delayS - timeS);
    if (away < awayS) {
      awayS = away;
      nearest = points.forceN[i] ?? 0;
    }
  }
  return nearest;
}

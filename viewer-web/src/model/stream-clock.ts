/**
 * A steady "now" on the station's time axis.
 *
 * Samples arrive in bursts; if the right edge of the view followed them the trace would stutter. The clock runs on the
 * browser's own time and is pulled gently towards the newest sample: quickly when samples are ahead of it, very slowly
 * when they are behind (they may merely be late).
 */

const SNAP_S = 0.5;
const AHEAD_GAIN = 0.3;
const BEHIND_GAIN = 0.0005;

export class StreamClock {
  private anchorS = 0;
  private anchorPerfS = 0;
  private rate = 1;

  /** Sets the time outright, for example from `hello.nowS`. */
  set(stationS: number, perfS: number): void {
    this.anchorS = stationS;
    this.anchorPerfS = perfS;
  }

  /** Sets how fast station time runs: 1 live, the speed of a replay, 0 while a replay stands still. */
  setRate(rate: number, perfS: number): void {
    this.set(this.nowS(perfS), perfS);
    this.rate = rate;
  }

  nowS(perfS: number): number {
    return this.anchorS + (perfS - this.anchorPerfS) * this.rate;
  }

  /** Takes note of the newest sample's time. */
  observe(newestS: number, perfS: number): void {
    const nowS = this.nowS(perfS);
    const aheadS = newestS - nowS;
    if (aheadS > SNAP_S) this.set(newestS, perfS);
    else this.set(nowS + aheadS * (aheadS > 0 ? AHEAD_GAIN : BEHIND_GAIN), perfS);
  }
}

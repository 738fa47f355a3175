/**
 * The one place where events and traces become what is shown: signals for words and figures, rings for the traces.
 * Time comes in as an argument (`perfS`, the browser's monotonic seconds), so that tests hand in their own.
 */

import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { Channel, HelloEvent, StationEvent } from '../live/events';
import { parseBlocks } from '../live/parse-blocks';
import type { ConnectionState } from '../live/socket-client';
import { MetricCatalog } from './metric-catalog';
import { isSameRun, reduce } from './reduce';
import { INITIAL_STATE, type ShownChannel, type StationState, shownChannels } from './station-state';
import { StreamClock } from './stream-clock';
import { TraceRing } from './trace-ring';
import { type Extent, endS, INITIAL_VIEW, type ViewState } from './view-state';

/** How far one can look back. */
export const KEPT_S = 300;
const BLOCKS_PER_S = 130;
/** Assumed for a channel that has not said its rate: the fastest that a ring must hold. */
const UNKNOWN_RATE_HZ = 2000;

export class ViewerModel {
  readonly station = signal<StationState>(INITIAL_STATE);
  readonly connection = signal<ConnectionState>({ kind: 'connecting' });
  readonly view = signal<ViewState>(INITIAL_VIEW);
  /** Station time for words (hold timers, positions), ten times a second; the trace has its own clock. */
  readonly nowS = signal(0);
  /** Messages that could not be read, since the page was opened. */
  readonly badMessages = signal(0);

  readonly channels: ReadonlySignal<readonly Channel[]> = computed(() => this.station.value.channels);
  readonly shown: ReadonlySignal<readonly ShownChannel[]> = computed(() => shownChannels(this.channels.value));

  readonly rings = new Map<number, TraceRing>();
  readonly clock = new StreamClock();
  readonly catalog = new MetricCatalog();

  onEvent(event: StationEvent, perfS: number): void {
    if (event.type === 'hello') this.onHello(event, perfS);
    this.station.value = reduce(this.station.value, event, this.clock.nowS(perfS));
    if (event.type === 'hello' || event.type === 'replay') this.clock.setRate(this.rate(), perfS);
  }

  onTrace(message: ArrayBuffer, perfS: number): void {
    let newestS = Number.NEGATIVE_INFINITY;
    const fault = parseBlocks(message, (kind, channel, t0S, periodS, values) => {
      this.ringOf(channel).append(kind, t0S, periodS, values);
      newestS = Math.max(newestS, t0S + (values.length / kind) * periodS);
    });
    if (fault !== undefined) this.onBadMessage();
    if (Number.isFinite(newestS)) this.clock.observe(newestS, perfS);
  }

  onBadMessage(): void {
    this.badMessages.value++;
  }

  /** Moves the clock of the words on; called at every frame, takes effect ten times a second. */
  onFrame(perfS: number): void {
    const nowS = Math.floor(this.clock.nowS(perfS) * 10) / 10;
    if (nowS !== this.nowS.value) this.nowS.value = nowS;
  }

  /** Right edge of the view. */
  edgeS(perfS: number): number {
    return endS(this.view.value, this.clock.nowS(perfS));
  }

  /** What can be looked back to. */
  extent(perfS: number): Extent {
    const nowS = this.clock.nowS(perfS);
    let oldestS = nowS;
    for (const ring of this.rings.values()) oldestS = Math.min(oldestS, ring.firstS);
    return { oldestS, nowS };
  }

  private onHello(event: HelloEvent, perfS: number): void {
    if (!isSameRun(this.station.value, event)) {
      this.rings.clear();
      this.view.value = { windowS: this.view.value.windowS };
    }
    this.clock.set(event.nowS, perfS);
  }

  /** How fast station time runs; a replay as fast as possible is led by its samples alone. */
  private rate(): number {
    const { session, replay } = this.station.value;
    if (session?.mode !== 'replay' || replay === undefined) return 1;
    return replay.paused || replay.ended ? 0 : replay.speed;
  }

  private ringOf(channel: number): TraceRing {
    let ring = this.rings.get(channel);
    if (ring === undefined) {
      const known = this.channels.value.find((one) => one.channel === channel);
      const rateHz = known !== undefined && known.sampleRateHz > 0 ? known.sampleRateHz : UNKNOWN_RATE_HZ;
      ring = new TraceRing(Math.ceil(rateHz * KEPT_S), BLOCKS_PER_S * KEPT_S);
      this.rings.set(channel, ring);
    }
    return ring;
  }
}

/** What a person can make the viewer and the station do. Buttons and keys share these. */

import { signal } from '@preact/signals';
import type { Limb, SaidOfTrials } from '../live/events';
import { type Outcome, stationApi } from '../live/station-api';
import { resultList } from '../model/result-list';
import { newestBefore } from '../model/review';
import { follow, hold, isHeld, move, moveTo, nextChoiceS, zoomTo } from '../model/view-state';
import type { ViewerModel } from '../model/viewer-model';
import { readSetting, writeSetting } from './browser-settings';
import { CellActions } from './cell-actions';
import { CheckActions } from './check-actions';
import { GuideActions } from './guide-actions';
import type { Place } from './keys';
import { ReviewActions } from './review-actions';
import type { Theme } from './theme';

export type Panel = 'help' | 'cautions' | 'mark' | 'target' | 'sides' | 'compare' | 'tap' | 'trials';

const SPEEDS: readonly number[] = [0.1, 0.25, 0.5, 1, 2, 5, 10, 0];

export class ViewerActions {
  /** The dialog that is open, at most one. */
  readonly panel = signal<Panel | undefined>(undefined);
  /** The entry of the list of efforts whose figures are all shown. */
  readonly expanded = signal<string | undefined>(undefined);
  readonly linksOpen = signal(false);
  /** Why the last request failed; absent when all is well. */
  readonly failure = signal<string | undefined>(undefined);
  /** One contraction under review. */
  readonly review: ReviewActions;
  /** One cell, for whoever wires it. */
  readonly cell = new CellActions();
  readonly guide = new GuideActions();
  readonly check = new CheckActions();
  private focusBefore: Element | null = null;

  constructor(
    readonly model: ViewerModel,
    readonly theme: Theme,
    private readonly nowPerfS: () => number,
  ) {
    this.review = new ReviewActions(model);
  }

  toggleHold(): void {
    const { view } = this.model;
    view.value = isHeld(view.value) ? follow(view.value) : hold(view.value, this.model.edgeS(this.nowPerfS()));
  }

  /** Looks back (negative) or comes forward by a share of the window. */
  look(share: number): void {
    const { view } = this.model;
    view.value = move(view.value, share * view.value.windowS, this.model.extent(this.nowPerfS()));
  }

  lookAt(edgeS: number): void {
    this.model.view.value = moveTo(this.model.view.value, edgeS, this.model.extent(this.nowPerfS()));
  }

  toOldest(): void {
    this.lookAt(Number.NEGATIVE_INFINITY);
  }

  followStream(): void {
    this.model.view.value = follow(this.model.view.value);
  }

  setWindow(windowS: number): void {
    this.model.view.value = zoomTo(this.model.view.value, windowS, this.model.extent(this.nowPerfS()));
  }

  zoom(direction: 1 | -1): void {
    this.setWindow(nextChoiceS(this.model.view.value.windowS, direction));
  }

  zeroAll(): void {
    void this.ask(stationApi.zero([]));
  }

  zeroLimb(limb: Limb): void {
    const shown = this.model.shown.value.find((one) => one.limb === limb);
    if (shown) this.zeroChannel(shown.channel.channel);
  }

  zeroChannel(channel: number): void {
    void this.ask(stationApi.zero([channel]));
  }

  toggleRecording(): void {
    const on = this.model.station.value.recording.state === 'on';
    void this.ask(on ? stationApi.stopRecording() : stationApi.startRecording());
  }

  mark(text: string): void {
    void this.ask(stationApi.mark(text));
  }

  setTarget(forceN: number, tolerancePercent: number): void {
    void this.ask(stationApi.target(forceN, tolerancePercent));
  }

  /** Says something of the trials from now on, in place of what was said before. */
  sayOfTrials(said: SaidOfTrials): void {
    void this.ask(stationApi.trials(said));
  }

  /** Waits for a knock on both cells, or forgets those so far. */
  tap(forget = false): void {
    void this.ask(stationApi.tap(forget));
  }

  clearTarget(): void {
    void this.ask(stationApi.noTarget());
  }

  toggleReplay(): void {
    const { replay } = this.model.station.value;
    if (replay === undefined) return;
    if (replay.ended) this.restartReplay();
    else void this.ask(stationApi.replay({ paused: !replay.paused }));
  }

  restartReplay(): void {
    if (this.model.station.value.replay) void this.ask(stationApi.replay({ restart: true, paused: false }));
  }

  setReplaySpeed(speed: number): void {
    void this.ask(stationApi.replay({ speed }));
  }

  stepReplaySpeed(direction: 1 | -1): void {
    const { replay } = this.model.station.value;
    if (replay === undefined) return;
    const at = SPEEDS.indexOf(replay.speed);
    const next = SPEEDS[Math.min(SPEEDS.length - 1, Math.max(0, (at < 0 ? SPEEDS.indexOf(1) : at) + direction))];
    if (next !== undefined && next !== replay.speed) this.setReplaySpeed(next);
  }

  /** Looks at one contraction in the place of the live trace. */
  openReview(id: number): void {
    if (this.review.id.value === undefined) this.focusBefore = document.activeElement;
    this.cell.close();
    this.guide.close();
    this.review.open(id);
  }

  /** The newest finished contraction that has begun before the right edge of the view. */
  openReviewInView(): void {
    const newest = newestBefore(this.model.station.value.contractions, this.model.edgeS(this.nowPerfS()));
    if (newest) this.openReview(newest.id);
  }

  /** What stands in the middle of the page. */
  place(): Place {
    if (this.guide.open.value) return 'guide';
    if (this.cell.channel.value !== undefined) return 'cell';
    return this.review.id.value === undefined ? 'view' : 'review';
  }

  /** Looks at the first cell, then at the next, and after the last one at the live trace again. */
  nextCell(): void {
    if (this.guide.open.value) {
      this.closeGuide();
      return;
    }
    const channels = this.model.channels.value.map((one) => one.channel);
    const now = this.cell.channel.value;
    const next = now === undefined ? channels[0] : channels[channels.indexOf(now) + 1];
    if (next !== undefined) this.openCell(next);
    else if (now !== undefined) this.closeCell();
  }

  /** Looks at one cell in the place of the live trace. */
  openCell(channel: number): void {
    this.guide.close();
    if (this.review.id.value !== undefined) this.review.close();
    if (this.cell.channel.value === undefined) this.focusBefore = document.activeElement;
    this.cell.open(channel);
    window.scrollTo({ top: 0 });
  }

  /** Shows the guided calibration of a cell, or the one that is on its way. */
  openGuide(channel: number): void {
    this.cell.close();
    void this.guide.show(channel);
    window.scrollTo({ top: 0 });
  }

  /** Shows the guided calibration of the cell that is looked at. */
  guideCell(): void {
    const channel = this.cell.channel.value;
    if (channel !== undefined && this.model.station.value.session?.mode === 'live') this.openGuide(channel);
  }

  /** Goes back to the cell; the calibration waits in the station. */
  closeGuide(): void {
    const channel = this.guide.channel.value;
    this.guide.close();
    if (channel !== undefined) this.openCell(channel);
  }

  /** Puts a saved calibration away. */
  async finishGuide(): Promise<void> {
    await this.guide.cancel();
    this.closeGuide();
  }

  /** Goes back to the live trace from whatever stands in its place. */
  closeCell(): void {
    this.cell.close();
    this.backToTrace();
  }

  /** Goes back to the live trace, and the focus to where it was. */
  closeReview(): void {
    this.review.close();
    this.backToTrace();
  }

  private backToTrace(): void {
    const before = this.focusBefore;
    this.focusBefore = null;
    queueMicrotask(() => {
      const target = before?.isConnected && before !== document.body ? before : document.getElementById('trace');
      if (target instanceof HTMLElement) target.focus();
    });
  }

  open(panel: Panel): void {
    this.panel.value = panel;
  }

  close(): void {
    this.panel.value = undefined;
  }

  /** True once this session's cautions have been acknowledged in this browser. */
  cautionsAccepted(): boolean {
    return readSetting('cautions') === this.model.station.value.session?.id;
  }

  acceptCautions(): void {
    const id = this.model.station.value.session?.id;
    if (id !== undefined) writeSetting('cautions', id);
    this.close();
  }

  toggleExpanded(key: string): void {
    this.expanded.value = this.expanded.value === key ? undefined : key;
  }

  toggleNewest(): void {
    const newest = resultList(this.model.station.value, 1)[0];
    if (newest) this.toggleExpanded(newest.key);
  }

  toggleLinks(): void {
    this.linksOpen.value = !this.linksOpen.value;
  }

  private async ask(outcome: Outcome): Promise<void> {
    this.failure.value = await outcome;
  }
}

export const REPLAY_SPEEDS = SPEEDS;

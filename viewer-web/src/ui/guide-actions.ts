/** The guided calibration as this page sees it. Where it stands lives in the station; nothing here outlives a reload. */

import { signal } from '@preact/signals';
import { type GuideApi, type GuideLevel, type GuidePlan, type GuideState, guideApi } from '../live/guide-api';
import type { Answer } from '../live/review-api';

const EVERY_MS = 500;

export class GuideActions {
  /** True while the guide stands in the middle of the page. */
  readonly open = signal(false);
  /** The channel that a new calibration would be of. */
  readonly channel = signal<number | undefined>(undefined);
  readonly state = signal<GuideState | undefined>(undefined);
  readonly level = signal<GuideLevel | undefined>(undefined);
  /** Why the last request failed; absent when all is well. */
  readonly failure = signal<string | undefined>(undefined);
  /** What the reference cell shows, as typed; empty: the planned load. */
  readonly applied = signal('');

  private timer: ReturnType<typeof setTimeout> | undefined;
  private asked = 0;
  private busy = false;

  constructor(private readonly api: GuideApi = guideApi) {}

  /** Asks the station where it stands, without showing it. */
  async look(): Promise<void> {
    const answer = await this.api.state();
    if (answer.ok) this.state.value = answer.value;
  }

  async show(channel: number): Promise<void> {
    this.open.value = true;
    this.channel.value = channel;
    this.failure.value = undefined;
    this.took(await this.api.state());
    this.watch();
  }

  close(): void {
    this.open.value = false;
    this.asked++;
    clearTimeout(this.timer);
    this.level.value = undefined;
    this.failure.value = undefined;
  }

  async begin(plan: GuidePlan): Promise<void> {
    const channel = this.channel.value;
    if (channel === undefined) return;
    await this.change(() => this.api.begin(channel, plan));
  }

  /** Takes the reading of the step to do, or says that it is done. */
  async take(anyway = false): Promise<void> {
    const state = this.state.value;
    if (state?.state !== 'running') return;
    const step = state.steps[state.done];
    const typed = Number(this.applied.value.replace(',', '.'));
    const given = this.applied.value.trim() !== '' && step?.kind === 'read' && step.applied !== 0;
    if (given && !Number.isFinite(typed)) {
      this.failure.value = `${this.applied.value} is no number.`;
      return;
    }
    await this.change(() =>
      this.api.take(state.done, { ...(anyway ? { anyway: true } : {}), ...(given ? { applied: typed } : {}) }),
    );
  }

  async undo(): Promise<void> {
    const state = this.state.value;
    if (state === undefined || state.state === 'none' || state.done === 0 || state.saved !== '') return;
    await this.change(() => this.api.undo());
  }

  async save(): Promise<void> {
    await this.change(() => this.api.save());
  }

  async cancel(): Promise<void> {
    await this.change(() => this.api.cancel());
  }

  /** One change at a time: a key that is held down takes one step. */
  private async change(ask: () => Promise<Answer<GuideState>>): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    const answer = await ask();
    this.busy = false;
    this.took(answer);
    if (answer.ok) {
      this.applied.value = '';
      this.level.value = undefined;
      this.watch();
    }
  }

  private took(answer: Answer<GuideState>): void {
    if (answer.ok) {
      this.state.value = answer.value;
      this.failure.value = undefined;
    } else {
      this.failure.value = answer.reason;
    }
  }

  /** Follows the live reading for as long as there is a step to do. */
  private watch(): void {
    clearTimeout(this.timer);
    const mine = ++this.asked;
    if (this.open.value && this.state.value?.state === 'running') void this.follow(mine);
  }

  private async follow(mine: number): Promise<void> {
    const answer = await this.api.level();
    if (mine !== this.asked) return;
    if (answer.ok) {
      this.level.value = answer.value;
    } else {
      // Another page may have gone on: look where it stands.
      this.took(await this.api.state());
      if (mine !== this.asked || this.state.value?.state !== 'running') return;
    }
    this.timer = setTimeout(() => void this.follow(mine), EVERY_MS);
  }
}

/** Quick checks as this page sees them. Where one stands lives in the station. */

import { signal } from '@preact/signals';
import { type CheckApi, type CheckPlan, type CheckState, checkApi } from '../live/check-api';
import type { Answer } from '../live/review-api';

const RUNNING_EVERY_MS = 500;
const AGAIN_AFTER_MS = 600_000;

export class CheckActions {
  /** By channel, as far as it was asked for. */
  readonly states = signal<ReadonlyMap<number, CheckState>>(new Map());
  /** Why the last request failed; absent when all is well. */
  readonly failure = signal<string | undefined>(undefined);

  private timer: ReturnType<typeof setTimeout> | undefined;
  private again: ReturnType<typeof setTimeout> | undefined;
  private busy = false;
  private followed: number | undefined;

  constructor(private readonly api: CheckApi = checkApi) {}

  /** Asks for what deserves a look at these cells, now and every ten minutes. */
  async lookAll(channels: readonly number[]): Promise<void> {
    clearTimeout(this.again);
    this.again = setTimeout(() => void this.lookAll(channels), AGAIN_AFTER_MS);
    for (const channel of channels) {
      const answer = await this.api.state(channel);
      if (answer.ok) this.keep(channel, answer.value);
    }
  }

  /** Follows one cell for as long as it is shown. */
  show(channel: number): void {
    this.hide();
    this.followed = channel;
    void this.follow(channel);
  }

  hide(): void {
    clearTimeout(this.timer);
    this.followed = undefined;
    this.failure.value = undefined;
  }

  begin(channel: number, plan: CheckPlan): Promise<void> {
    return this.change(channel, () => this.api.begin(channel, plan));
  }

  take(channel: number): Promise<void> {
    const next = this.states.value.get(channel)?.running?.next;
    return next === undefined ? Promise.resolve() : this.change(channel, () => this.api.take(channel, next));
  }

  cancel(channel: number): Promise<void> {
    return this.change(channel, () => this.api.cancel(channel));
  }

  /** One change at a time: two presses take one reading. */
  private async change(channel: number, ask: () => Promise<Answer<CheckState>>): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    const answer = await ask();
    this.busy = false;
    this.took(channel, answer);
    if (channel === this.followed) {
      clearTimeout(this.timer);
      this.timer = setTimeout(() => void this.follow(channel), RUNNING_EVERY_MS);
    }
  }

  private took(channel: number, answer: Answer<CheckState>): void {
    if (answer.ok) this.keep(channel, answer.value);
    this.failure.value = answer.ok ? undefined : answer.reason;
  }

  private keep(channel: number, state: CheckState): void {
    this.states.value = new Map(this.states.value).set(channel, state);
  }

  private async follow(channel: number): Promise<void> {
    if (!this.busy) {
      const answer = await this.api.state(channel);
      if (channel !== this.followed) return;
      if (answer.ok && !this.busy) this.keep(channel, answer.value);
    }
    clearTimeout(this.timer);
    if (this.states.value.get(channel)?.running) {
      this.timer = setTimeout(() => void this.follow(channel), RUNNING_EVERY_MS);
    }
  }
}

/** Looking at one cell: asks the station once a second for as long as it is shown. */

import { signal } from '@preact/signals';
import { askForCell, type CellReport } from '../live/cell-api';

const EVERY_MS = 1000;

export class CellActions {
  /** The channel whose cell is looked at; absent while something else is shown. */
  readonly channel = signal<number | undefined>(undefined);
  readonly report = signal<CellReport | undefined>(undefined);
  /** Why the last request failed; absent when all is well. */
  readonly failure = signal<string | undefined>(undefined);

  private timer: ReturnType<typeof setTimeout> | undefined;
  private asked = 0;

  open(channel: number): void {
    if (this.channel.value === channel) return;
    this.close();
    this.channel.value = channel;
    void this.ask(channel);
  }

  close(): void {
    clearTimeout(this.timer);
    this.asked++;
    this.channel.value = undefined;
    this.report.value = undefined;
    this.failure.value = undefined;
  }

  private async ask(channel: number): Promise<void> {
    const mine = ++this.asked;
    const answer = await askForCell(channel);
    if (mine !== this.asked) return;
    if (typeof answer === 'string') {
      this.failure.value = answer;
    } else {
      this.failure.value = undefined;
      this.report.value = answer;
    }
    this.timer = setTimeout(() => void this.ask(channel), EVERY_MS);
  }
}

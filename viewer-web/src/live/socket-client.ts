/**
 * The viewer's end of /ws/live: opens, counts binary messages, notices a dead connection, and comes back by itself.
 *
 * Binary messages are counted from 1 per connection, as the station does; the count is the sequence that `painted`
 * returns. A connection that is silent for longer than SILENCE_MS is given up: the station speaks at least once a
 * second.
 */

import { backOffMs } from './back-off';
import { parseEvent, type StationEvent } from './events';

export type ConnectionState =
  | { readonly kind: 'connecting' }
  | { readonly kind: 'open' }
  | { readonly kind: 'closed'; readonly attempt: number; readonly sinceMs: number }
  | { readonly kind: 'refused' };

export interface SocketListener {
  onState(state: ConnectionState): void;
  onEvent(event: StationEvent): void;
  onTrace(message: ArrayBuffer): void;
  onBadMessage(reason: string): void;
}

/** The outside world as the client needs it; tests hand in their own. */
export interface SocketWorld {
  open(): WebSocket;
  /** True where the station answers that this viewer may not look (no or wrong token). */
  isRefused(): Promise<boolean>;
  nowMs(): number;
  random(): number;
  later(work: () => void, delayMs: number): () => void;
}

export const SILENCE_MS = 6_000;

export class SocketClient {
  private socket: WebSocket | undefined;
  private sequence = 0;
  private paintedSequence = 0;
  private attempt = 0;
  private sinceMs = 0;
  private cancelTimer: () => void = () => {};

  constructor(
    private readonly world: SocketWorld,
    private readonly listener: SocketListener,
  ) {}

  start(): void {
    this.listener.onState({ kind: 'connecting' });
    this.open();
  }

  /** Acknowledges the newest binary message after it has been drawn; says nothing twice. */
  painted(): void {
    if (this.socket?.readyState !== 1 || this.sequence === this.paintedSequence) return;
    this.paintedSequence = this.sequence;
    this.socket.send(`{"type":"painted","sequence":${this.sequence}}`);
  }

  private open(): void {
    const socket = this.world.open();
    socket.binaryType = 'arraybuffer';
    this.socket = socket;
    this.sequence = 0;
    this.paintedSequence = 0;
    let over = false;
    const end = (): void => {
      if (over) return;
      over = true;
      socket.close();
      this.onEnd();
    };
    socket.onopen = () => this.onOpen(end);
    socket.onmessage = (message: MessageEvent<string | ArrayBuffer>) => {
      if (over) return;
      this.watchSilence(end);
      this.onMessage(message.data);
    };
    socket.onclose = end;
    socket.onerror = end;
    this.watchSilence(end);
  }

  private onOpen(end: () => void): void {
    this.attempt = 0;
    this.watchSilence(end);
    this.listener.onState({ kind: 'open' });
  }

  private onMessage(data: string | ArrayBuffer): void {
    if (typeof data !== 'string') {
      this.sequence++;
      this.listener.onTrace(data);
      return;
    }
    const parsed = parseEvent(data);
    if (parsed.ok) this.listener.onEvent(parsed.event);
    else this.listener.onBadMessage(parsed.reason);
  }

  private onEnd(): void {
    this.socket = undefined;
    if (this.attempt === 0) this.sinceMs = this.world.nowMs();
    this.attempt++;
    this.listener.onState({ kind: 'closed', attempt: this.attempt, sinceMs: this.sinceMs });
    this.setTimer(() => this.retry(), backOffMs(this.attempt, this.world.random()));
  }

  private retry(): void {
    void this.world.isRefused().then((refused) => {
      if (refused) this.listener.onState({ kind: 'refused' });
      else this.open();
    });
  }

  private watchSilence(end: () => void): void {
    this.setTimer(end, SILENCE_MS);
  }

  private setTimer(work: () => void, delayMs: number): void {
    this.cancelTimer();
    this.cancelTimer = this.world.later(work, delayMs);
  }
}

import { describe, expect, it } from 'vitest';
import { backOffMs } from './back-off';
import { type ConnectionState, SILENCE_MS, SocketClient, type SocketWorld } from './socket-client';

class FakeSocket {
  readyState = 0;
  binaryType = '';
  sent: string[] = [];
  onopen: () => void = () => {};
  onclose: () => void = () => {};
  onmessage: (message: { data: string | ArrayBuffer }) => void = () => {};

  send(text: string): void {
    this.sent.push(text);
  }

  close(): void {
    this.readyState = 3;
  }

  opened(): void {
    this.readyState = 1;
    this.onopen();
  }

  closed(): void {
    this.readyState = 3;
    this.onclose();
  }
}

function setUp(refused = false) {
  const sockets: FakeSocket[] = [];
  const states: ConnectionState[] = [];
  const bad: string[] = [];
  const events: string[] = [];
  let timer: { work: () => void; delayMs: number } | undefined;
  const world: SocketWorld = {
    open: () => {
      const socket = new FakeSocket();
      sockets.push(socket);
      return socket as unknown as WebSocket;
    },
    isRefused: async () => refused,
    nowMs: () => 1000,
    random: () => 0.5,
    later: (work, delayMs) => {
      const mine = { work, delayMs };
      timer = mine;
      return () => {
        if (timer === mine) timer = undefined;
      };
    },
  };
  const client = new SocketClient(world, {
    onState: (state) => states.push(state),
    onEvent: (event) => events.push(event.type),
    onTrace: () => {},
    onBadMessage: (reason) => bad.push(reason),
  });
  client.start();
  const runTimer = async (): Promise<number> => {
    const due = timer;
    timer = undefined;
    due?.work();
    await Promise.resolve();
    await Promise.resolve();
    return due?.delayMs ?? Number.NaN;
  };
  const socket = (i: number): FakeSocket => {
    const one = sockets[i];
    if (one === undefined) throw new Error(`no socket ${i}`);
    return one;
  };
  return { client, socket, sockets, states, bad, events, runTimer };
}

describe('SocketClient', () => {
  it('should acknowledge the newest message once, counted per connection', async () => {
    const { client, socket, runTimer } = setUp();
    socket(0).opened();
    client.painted();
    for (let i = 0; i < 3; i++) socket(0).onmessage({ data: new ArrayBuffer(0) });
    client.painted();
    client.painted();
    expect(socket(0).sent).toEqual(['{"type":"painted","sequence":3}']);
    socket(0).closed();
    await runTimer();
    socket(1).opened();
    socket(1).onmessage({ data: new ArrayBuffer(0) });
    client.painted();
    expect(socket(1).sent).toEqual(['{"type":"painted","sequence":1}']);
  });

  it('should come back with growing waits and say since when the station is silent', async () => {
    const { socket, states, runTimer } = setUp();
    socket(0).opened();
    socket(0).closed();
    expect(await runTimer()).toBe(500);
    socket(1).closed();
    expect(await runTimer()).toBe(1000);
    socket(2).opened();
    expect(states.map((state) => state.kind)).toEqual(['connecting', 'open', 'closed', 'closed', 'open']);
    expect(states[3]).toEqual({ kind: 'closed', attempt: 2, sinceMs: 1000 });
  });

  it('should give up a connection that is silent', async () => {
    const { socket, states, runTimer } = setUp();
    socket(0).opened();
    expect(await runTimer()).toBe(SILENCE_MS);
    expect(states.at(-1)?.kind).toBe('closed');
    socket(0).closed();
    expect(states.filter((state) => state.kind === 'closed')).toHaveLength(1);
  });

  it('should stop and say so where the station refuses this viewer', async () => {
    const { socket, sockets, states, runTimer } = setUp(true);
    socket(0).closed();
    await runTimer();
    expect(states.at(-1)).toEqual({ kind: 'refused' });
    expect(sockets).toHaveLength(1);
  });

  it('should hand on events and count what is none', () => {
    const { socket, bad, events } = setUp();
    socket(0).opened();
    for (const data of ['{"type":"target"}', '{"type":"mark"}', 'x', '[]', '{"type":"new"}', '{"type":"toString"}']) {
      socket(0).onmessage({ data });
    }
    expect(events).toEqual(['target']);
    expect(bad).toEqual([
      'mark.atS is not a number',
      'not JSON',
      'not an object',
      'unknown type: new',
      'unknown type: toString',
    ]);
  });
});

describe('backOffMs', () => {
  it('should double from half a second to eight, within a fifth', () => {
    expect([1, 2, 3, 4, 5, 6, 99].map((attempt) => backOffMs(attempt, 0.5))).toEqual([
      500, 1000, 2000, 4000, 8000, 8000, 8000,
    ]);
    expect(backOffMs(1, 0)).toBe(400);
    expect(backOffMs(1, 1)).toBeCloseTo(600, 9);
  });
});

import { describe, expect, it } from 'vitest';
import type { HelloEvent, ReplayEvent } from '../live/events';
import { ViewerModel } from './viewer-model';

const HELLO: HelloEvent = {
  type: 'hello',
  schema: 'heldmark.live/1',
  version: '0.1.0',
  sessionId: 'a',
  run: 1,
  mode: 'live',
  nowS: 100,
  channels: [],
  links: [],
  zeros: [],
  recording: { type: 'recording', state: 'off' },
  contractions: [],
  efforts: [],
};

const REPLAY: ReplayEvent = {
  type: 'replay',
  file: 'one.pcapng',
  positionS: 100,
  durationS: 200,
  speed: 2,
  paused: false,
  ended: false,
};

function trace(t0S: number, count: number): ArrayBuffer {
  const bytes = new ArrayBuffer(24 + 4 * count);
  const view = new DataView(bytes);
  view.setUint8(0, 1);
  view.setUint8(1, 1);
  view.setUint32(4, count, true);
  view.setBigInt64(8, BigInt(Math.round(t0S * 1e9)), true);
  view.setFloat64(16, 1e6, true);
  return bytes;
}

describe('ViewerModel', () => {
  it('should keep the trace when the same session is joined again, and begin anew with another', () => {
    const model = new ViewerModel();
    model.onEvent(HELLO, 0);
    model.onTrace(trace(99, 1000), 0);
    expect(model.extent(0)).toEqual({ oldestS: 99, nowS: 100 });
    model.onEvent({ ...HELLO, nowS: 105 }, 5);
    expect(model.extent(5)).toEqual({ oldestS: 99, nowS: 105 });
    model.onEvent({ ...HELLO, sessionId: 'b', nowS: 1 }, 6);
    expect(model.extent(6)).toEqual({ oldestS: 1, nowS: 1 });
  });

  it('should tell words the time ten times a second only', () => {
    const model = new ViewerModel();
    model.onEvent(HELLO, 0);
    let changes = -1;
    model.nowS.subscribe(() => {
      changes++;
    });
    for (let frame = 1; frame <= 60; frame++) model.onFrame(frame / 60 + 0.001);
    expect(changes).toBe(11);
  });

  it('should run at the speed of a replay, stand still with it, and forget the trace when it begins anew', () => {
    const model = new ViewerModel();
    model.onEvent({ ...HELLO, mode: 'replay', replay: REPLAY }, 0);
    expect(model.edgeS(1)).toBe(102);
    model.onEvent({ ...REPLAY, positionS: 102, paused: true }, 1);
    expect(model.edgeS(9)).toBe(102);
    model.onTrace(trace(101, 100), 9);
    model.onEvent({ ...HELLO, mode: 'replay', run: 2, nowS: 0, replay: { ...REPLAY, positionS: 0 } }, 9);
    expect(model.extent(9)).toEqual({ oldestS: 0, nowS: 0 });
  });

  it('should count messages that it cannot read and go on', () => {
    const model = new ViewerModel();
    model.onTrace(new ArrayBuffer(5), 0);
    expect(model.badMessages.value).toBe(1);
  });
});

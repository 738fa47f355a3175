import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Contraction, HelloEvent } from '../live/events';
import { ViewerModel } from '../model/viewer-model';
import { ReviewActions } from './review-actions';

const FOUND = contraction(7, 10);
const SAMPLES = {
  t0Ns: 9_000_000_000,
  timeNs: Array.from({ length: 5000 }, (_, i) => i * 1_000_000),
  forceN: Array.from({ length: 5000 }, () => 1),
  gapBefore: [],
};

function contraction(id: number, onsetS: number, more: Partial<Contraction> = {}): Contraction {
  const times = { onsetS, releaseStartS: onsetS + 2, offsetS: onsetS + 2.4 };
  return {
    type: 'contraction',
    id,
    revision: 'final',
    channel: 0,
    limb: 'left',
    ...times,
    flags: [],
    metrics: [],
    ...more,
  };
}

/** A station that knows contractions 7 and 8 and writes down what it is asked. */
class Station {
  readonly asked: string[] = [];
  manual: Contraction | undefined;
  refusal: string | undefined;

  readonly fetch = async (resource: string, init?: RequestInit): Promise<Response> => {
    this.asked.push(
      `${init?.method ?? 'GET'} ${resource.replace('api/v1/contractions/', '')} ${init?.body ?? ''}`.trim(),
    );
    if (resource.endsWith('/samples')) return Response.json(SAMPLES);
    if (init?.method === 'POST') {
      if (this.refusal) return Response.json({ error: this.refusal }, { status: 409 });
      const body = JSON.parse(String(init.body)) as Record<string, number | string>;
      this.manual = body.change === 'undo' ? undefined : { ...FOUND, ...body, revision: 'manual' };
    }
    const automatic = resource.includes('/8') ? contraction(8, 20) : FOUND;
    const manual = this.manual === undefined || automatic !== FOUND ? {} : { manual: this.manual };
    return Response.json({
      id: automatic.id,
      channel: 0,
      unit: 'N',
      automatic,
      ...manual,
      undo: 'manual' in manual,
      redo: false,
    });
  };

  moves(): string[] {
    return this.asked.filter((one) => one.startsWith('POST'));
  }
}

let station: Station;
let model: ViewerModel;
let review: ReviewActions;

const settled = (): Promise<void> => vi.advanceTimersByTimeAsync(1).then(() => undefined);

beforeEach(async () => {
  vi.useFakeTimers();
  station = new Station();
  vi.stubGlobal('fetch', station.fetch);
  model = new ViewerModel();
  model.onEvent(FOUND, 0);
  model.onEvent(contraction(8, 20), 0);
  review = new ReviewActions(model);
  review.open(7);
  await settled();
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('moving a boundary', () => {
  it('should send many steps as one move, of what was moved only', async () => {
    for (let i = 0; i < 5; i++) review.stepSamples('onset', -1);
    review.stepTime('onset', -0.01);
    expect(review.boundaries.value?.onset).toBeCloseTo(9.985, 9);
    expect(station.moves()).toEqual([]);
    await vi.advanceTimersByTimeAsync(500);
    expect(station.moves()).toEqual(['POST 7/boundaries {"onsetS":9.985}']);
    expect(review.moving.value).toBeUndefined();
    expect(review.review.value?.manual?.onsetS).toBe(9.985);
  });

  it('should send nothing where a boundary came back to where it was', async () => {
    review.stepSamples('offset', 1);
    review.stepSamples('offset', -1);
    await vi.advanceTimersByTimeAsync(500);
    expect(station.moves()).toEqual([]);
    expect(review.moving.value).toBeUndefined();
  });

  it('should send what was moved before it takes a step back', async () => {
    review.stepSamples('offset', 1);
    review.undo();
    await settled();
    expect(station.moves()).toEqual(['POST 7/boundaries {"offsetS":12.401}', 'POST 7/boundaries {"change":"undo"}']);
    expect(review.boundaries.value).toEqual({ onset: 10, release: 12, offset: 12.4 });
  });

  it('should say why the station refused, and show what is in force', async () => {
    station.refusal = 'The onset must come before the start of the release.';
    review.drag('onset', 11.5);
    await review.send();
    expect(review.failure.value).toBe(station.refusal);
    expect(review.boundaries.value?.onset).toBe(10);
  });

  it('should go to the other limb and back before the station has answered', () => {
    model.onEvent(
      {
        type: 'effort',
        id: 1,
        leftContractionId: 7,
        rightContractionId: 8,
        asymmetry: { id: 'asymmetry.log', notComputed: 'invented' },
      },
      0,
    );
    review.openPartner();
    expect(review.id.value).toBe(8);
    review.openPartner();
    expect(review.id.value).toBe(7);
  });

  it('should send what was moved when another contraction is looked at', async () => {
    review.stepSamples('onset', 1);
    review.go(1);
    await settled();
    expect(station.moves()).toEqual(['POST 7/boundaries {"onsetS":10.001}']);
    expect(review.id.value).toBe(8);
    expect(review.review.value?.automatic.id).toBe(8);
    expect(review.boundaries.value?.onset).toBe(20);
  });
});

describe('what is shown', () => {
  it('should be asked for again when another viewer has moved a boundary, and only then', async () => {
    const before = station.asked.length;
    model.onEvent({ type: 'mark', atS: 1, text: 'x' }, 0);
    await settled();
    expect(station.asked.length).toBe(before);
    station.manual = { ...FOUND, revision: 'manual', onsetS: 10.02 };
    model.onEvent(station.manual, 0);
    await settled();
    expect(review.boundaries.value?.onset).toBe(10.02);
    expect(station.asked.length).toBe(before + 1);
  });

  it('should go away with its session, and where a replay begins anew', async () => {
    const hello = { type: 'hello', schema: 'heldmark.live/1', version: '1', mode: 'live', nowS: 0 } as const;
    const rest = { channels: [], links: [], zeros: [], contractions: [], efforts: [] };
    const recording = { type: 'recording', state: 'off' } as const;
    const begin = (sessionId: string, run: number) =>
      model.onEvent({ ...hello, ...rest, recording, sessionId, run } satisfies HelloEvent, 0);
    begin('a', 1);
    expect(review.id.value).toBe(7);
    begin('a', 1);
    expect(review.id.value).toBe(7);
    begin('a', 2);
    expect(review.id.value).toBeUndefined();
    review.open(7);
    begin('b', 2);
    expect(review.id.value).toBeUndefined();
  });

  it('should show the mark of one figure at a time', () => {
    expect(review.marked.value).toBe('force.peak');
    review.mark('rfd.0-50ms');
    expect(review.marked.value).toBe('rfd.0-50ms');
    review.mark('rfd.0-50ms');
    expect(review.marked.value).toBeUndefined();
  });
});

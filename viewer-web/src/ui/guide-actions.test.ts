import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Guide, GuideApi, GuideState } from '../live/guide-api';
import type { Answer } from '../live/review-api';
import { GuideActions } from './guide-actions';

const STEP = { kind: 'read', run: '1', mounting: '1', increasing: true, applied: 5 } as const;
const guideAt = (done: number): Guide =>
  ({ state: 'running', id: 'a', steps: [STEP, STEP, STEP], done, saved: '' }) as unknown as Guide;
const ok = (value: GuideState): Promise<Answer<GuideState>> => Promise.resolve({ ok: true, value });

function api(more: Partial<GuideApi>): GuideApi {
  return {
    state: () => ok(guideAt(1)),
    level: () => Promise.resolve({ ok: true, value: { ready: true } }),
    ...more,
  } as GuideApi;
}

afterEach(() => vi.useRealTimers());

describe('the guided calibration in the page', () => {
  it('should take one step however long the key is held', async () => {
    vi.useFakeTimers();
    const take = vi.fn((step: number) => ok(guideAt(step + 1)));
    const actions = new GuideActions(api({ take }));
    await actions.show(0);
    await Promise.all([actions.take(), actions.take(), actions.take()]);
    expect(take.mock.calls).toEqual([[1, {}]]);
    expect(actions.state.value).toEqual(guideAt(2));
    actions.close();
  });

  it('should hand over what a reference shows, and refuse what is no number', async () => {
    vi.useFakeTimers();
    const take = vi.fn((step: number) => ok(guideAt(step + 1)));
    const actions = new GuideActions(api({ take }));
    await actions.show(0);
    actions.applied.value = '4,98';
    await actions.take();
    expect(take.mock.calls).toEqual([[1, { applied: 4.98 }]]);
    expect(actions.applied.value).toBe('');
    actions.applied.value = 'five';
    await actions.take();
    expect(actions.failure.value).toBe('five is no number.');
    expect(take.mock.calls.length).toBe(1);
    actions.close();
  });

  it('should keep the state and say why where a step is refused', async () => {
    vi.useFakeTimers();
    const refused: Answer<GuideState> = { ok: false, reason: 'Still moving.' };
    const actions = new GuideActions(api({ take: () => Promise.resolve(refused) }));
    await actions.show(0);
    await actions.take();
    expect(actions.failure.value).toBe('Still moving.');
    expect(actions.state.value).toEqual(guideAt(1));
    actions.close();
  });

  it('should follow the reading until it is closed, and look where another page has gone', async () => {
    vi.useFakeTimers();
    let asked = 0;
    const none: GuideState = { state: 'none' };
    let state: GuideState = guideAt(1);
    const actions = new GuideActions(
      api({
        state: () => ok(state),
        level: () => {
          asked++;
          return Promise.resolve(
            state === none ? { ok: false, reason: 'None.' } : { ok: true, value: { ready: false } },
          );
        },
      }),
    );
    await actions.show(0);
    await vi.advanceTimersByTimeAsync(1100);
    expect(asked).toBe(3);
    state = none;
    await vi.advanceTimersByTimeAsync(600);
    expect(actions.state.value).toEqual(none);
    await vi.advanceTimersByTimeAsync(2000);
    expect(asked).toBe(4);
    actions.close();
  });
});

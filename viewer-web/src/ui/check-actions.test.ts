import { afterEach, describe, expect, it, vi } from 'vitest';
import type { CheckApi, CheckPlan, CheckState } from '../live/check-api';
import type { Answer } from '../live/review-api';
import { CheckActions } from './check-actions';

const NONE: CheckState = { warnings: [], checks: [], overloads: [] };
const PLAN: CheckPlan = { by: 'A. Invented', load: 10, unit: 'kg', loadUPercent: 0.05 };
const at = (next: 'zero' | 'load'): CheckState => ({
  ...NONE,
  running: { ...PLAN, next, appliedN: 98.1, level: { ready: true } },
});
const ok = (value: CheckState): Promise<Answer<CheckState>> => Promise.resolve({ ok: true, value });

function api(more: Partial<CheckApi>): CheckApi {
  return { state: () => ok(NONE), begin: () => ok(at('zero')), cancel: () => ok(NONE), ...more } as CheckApi;
}

afterEach(() => vi.useRealTimers());

describe('the quick check in the page', () => {
  it('should take each reading once, in order', async () => {
    vi.useFakeTimers();
    const take = vi.fn((_channel: number, of: 'zero' | 'load') => ok(of === 'zero' ? at('load') : NONE));
    const actions = new CheckActions(api({ take }));
    await actions.take(1);
    expect(take.mock.calls).toEqual([]);
    await actions.begin(1, PLAN);
    await Promise.all([actions.take(1), actions.take(1)]);
    await actions.take(1);
    expect(take.mock.calls).toEqual([
      [1, 'zero'],
      [1, 'load'],
    ]);
    expect(actions.states.value.get(1)?.running).toBeUndefined();
  });

  it('should follow the reading while a check runs, and only then', async () => {
    vi.useFakeTimers();
    const state = vi.fn(() => ok(state.mock.calls.length < 3 ? at('zero') : NONE));
    const actions = new CheckActions(api({ state }));
    actions.show(0);
    await vi.advanceTimersByTimeAsync(5000);
    expect(state.mock.calls.length).toBe(3);
  });

  it('should keep the state and say why where a reading is refused', async () => {
    vi.useFakeTimers();
    const refused: Answer<CheckState> = { ok: false, reason: 'Still moving.' };
    const actions = new CheckActions(api({ take: () => Promise.resolve(refused) }));
    await actions.begin(0, PLAN);
    await actions.take(0);
    expect(actions.failure.value).toBe('Still moving.');
    expect(actions.states.value.get(0)?.running?.next).toBe('zero');
    actions.hide();
    expect(actions.failure.value).toBeUndefined();
  });
});

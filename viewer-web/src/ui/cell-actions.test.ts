import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CellActions } from './cell-actions';

let asked: string[];
let refusal: string | undefined;

beforeEach(() => {
  vi.useFakeTimers();
  asked = [];
  refusal = undefined;
  vi.stubGlobal('fetch', async (resource: string) => {
    asked.push(resource);
    return refusal ? Response.json({ error: refusal }, { status: 404 }) : Response.json({ channel: asked.length });
  });
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('looking at a cell', () => {
  it('asks once a second while it is shown, and no longer', async () => {
    const cell = new CellActions();
    cell.open(1);
    await vi.advanceTimersByTimeAsync(2500);
    expect(asked).toEqual(['api/v1/cells/1', 'api/v1/cells/1', 'api/v1/cells/1']);
    expect(cell.report.value?.channel).toBe(3);
    cell.close();
    await vi.advanceTimersByTimeAsync(5000);
    expect(asked.length).toBe(3);
    expect(cell.report.value).toBeUndefined();
  });

  it('shows no answer of the cell before', async () => {
    const cell = new CellActions();
    cell.open(1);
    cell.open(2);
    await vi.advanceTimersByTimeAsync(10);
    expect(asked).toEqual(['api/v1/cells/1', 'api/v1/cells/2']);
    expect(cell.report.value?.channel).toBe(2);
    cell.close();
  });

  it('says what failed and goes on asking', async () => {
    const cell = new CellActions();
    refusal = 'There is no such channel.';
    cell.open(9);
    await vi.advanceTimersByTimeAsync(10);
    expect(cell.failure.value).toBe('There is no such channel.');
    refusal = undefined;
    await vi.advanceTimersByTimeAsync(1100);
    expect(cell.failure.value).toBeUndefined();
    cell.close();
  });
});

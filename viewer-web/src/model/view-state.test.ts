import { describe, expect, it } from 'vitest';
import { endS, follow, hold, INITIAL_VIEW, isHeld, move, nextChoiceS, zoomTo } from './view-state';

const EXTENT = { oldestS: 0, nowS: 100 };

describe('view state', () => {
  it('should follow the stream until it is held', () => {
    expect(endS(INITIAL_VIEW, 42)).toBe(42);
    const held = hold(INITIAL_VIEW, 42);
    expect(endS(held, 50)).toBe(42);
    expect(hold(held, 60)).toBe(held);
    expect(isHeld(follow(held))).toBe(false);
  });

  it('should look back and come forward, and follow again at the newest end', () => {
    const back = move(INITIAL_VIEW, -5, EXTENT);
    expect(back.heldEndS).toBe(95);
    expect(move(back, 2, EXTENT).heldEndS).toBe(97);
    expect(isHeld(move(back, 5, EXTENT))).toBe(false);
  });

  it('should not look back beyond the oldest sample', () => {
    expect(move(INITIAL_VIEW, -500, EXTENT).heldEndS).toBe(10);
    expect(move(INITIAL_VIEW, -500, { oldestS: 98, nowS: 100 }).heldEndS).toBe(100);
  });

  it('should zoom about the right edge while live and about the middle while held', () => {
    expect(zoomTo(INITIAL_VIEW, 20, EXTENT)).toEqual({ windowS: 20 });
    expect(zoomTo({ windowS: 10, heldEndS: 50 }, 20, EXTENT)).toEqual({ windowS: 20, heldEndS: 55 });
    expect(zoomTo({ windowS: 10, heldEndS: 99 }, 60, EXTENT).heldEndS).toBe(100);
  });

  it('should keep the window within its limits', () => {
    expect(zoomTo(INITIAL_VIEW, 0.1, EXTENT).windowS).toBe(2);
    expect(zoomTo(INITIAL_VIEW, 1000, EXTENT).windowS).toBe(60);
  });

  it('should step through the offered lengths', () => {
    expect([5, 10, 60, 2, 7.3].map((windowS) => nextChoiceS(windowS, 1))).toEqual([10, 20, 60, 5, 10]);
    expect([5, 10, 60, 2, 7.3].map((windowS) => nextChoiceS(windowS, -1))).toEqual([5, 5, 20, 2, 5]);
  });
});

import { describe, expect, it } from 'vitest';
import { BEGIN, type SidesCheck, step } from './sides-check';

/** Feeds the same pair for so many levels, a tenth of a second each. */
function feed(check: SidesCheck, left: number, right: number, levels = 10): SidesCheck {
  let now = check;
  for (let i = 0; i < levels; i++) now = step(now, { left, right });
  return now;
}

describe('which cell is which', () => {
  it('asks for left, then for right, and finds them the right way round', () => {
    let check = feed(BEGIN, 0, 0);
    expect(check.press).toBe('left');
    check = feed(check, 60, 3);
    expect(check.press).toBeUndefined();
    expect(check.seen).toEqual(['left']);
    check = feed(check, 1, 0);
    expect(check.press).toBe('right');
    check = feed(check, 2, 50);
    expect(check.verdict).toBeUndefined();
    check = feed(check, 0, 1);
    expect(check.verdict).toBe('right way round');
  });

  it('finds swapped cells at the first push', () => {
    const check = feed(feed(BEGIN, 0, 0), 2, 60);
    expect(check.verdict).toBe('swapped');
    expect(feed(check, 60, 0).verdict).toBe('swapped');
  });

  it('finds cells that one push moves both', () => {
    expect(feed(feed(BEGIN, 0, 0), 60, 40).verdict).toBe('both move');
  });

  it('counts pulls like pushes, and neither knocks nor weak touches', () => {
    expect(feed(feed(BEGIN, 5, 5), -55, 4).seen).toEqual(['left']);
    expect(feed(feed(BEGIN, 0, 0), 60, 0, 3).seen).toEqual([]);
    expect(feed(feed(BEGIN, 0, 0), 15, 0, 50).seen).toEqual([]);
  });

  it('waits until both are let go', () => {
    let check = feed(feed(BEGIN, 0, 0), 100, 0);
    check = feed(check, 60, 0, 50);
    expect(check.press).toBeUndefined();
    expect(feed(check, 5, 0).press).toBe('right');
  });

  it('judges from what was there before: a limb rests on the cells', () => {
    const check = feed(feed(BEGIN, 80, 75, 100), 150, 78);
    expect(check.seen).toEqual(['left']);
  });
});

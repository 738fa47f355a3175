import { describe, expect, it } from 'vitest';
import { StreamClock } from './stream-clock';

describe('StreamClock', () => {
  it('should run on the time of the browser between samples', () => {
    const clock = new StreamClock();
    clock.set(10, 100);
    expect(clock.nowS(101.5)).toBe(11.5);
  });

  it('should go to the samples at once when they are far ahead', () => {
    const clock = new StreamClock();
    clock.observe(1000, 5);
    expect(clock.nowS(5)).toBe(1000);
  });

  it('should neither stutter nor fall behind when samples come in bursts', () => {
    const clock = new StreamClock();
    clock.set(0, 0);
    let previousS = 0;
    for (let frame = 1; frame <= 600; frame++) {
      const perfS = frame / 60;
      // Bursts of 50 ms: the newest sample is up to 50 ms older than what has been measured.
      if (frame % 3 === 0) clock.observe(perfS, perfS);
      const nowS = clock.nowS(perfS);
      expect(nowS - previousS).toBeGreaterThan(0.5 / 60);
      expect(nowS - previousS).toBeLessThan(1.5 / 60);
      previousS = nowS;
    }
    expect(Math.abs(previousS - 10)).toBeLessThan(0.005);
  });

  it('should stand still with a paused replay and follow its speed', () => {
    const clock = new StreamClock();
    clock.set(3, 0);
    clock.setRate(0, 0);
    expect(clock.nowS(50)).toBe(3);
    clock.setRate(2, 50);
    expect(clock.nowS(51)).toBe(5);
  });

  it('should hardly move when one late block is behind', () => {
    const clock = new StreamClock();
    clock.set(100, 0);
    clock.observe(95, 0);
    expect(clock.nowS(0)).toBeGreaterThan(99.99);
  });
});

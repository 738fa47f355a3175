import { describe, expect, it } from 'vitest';
import { writeClock, writeElapsed, writeSeconds } from './time';

describe('time', () => {
  it('should write the local time of day with two digits each', () => {
    expect(writeClock(new Date(2026, 0, 2, 4, 5, 6).getTime())).toBe('04:05:06');
  });

  it('should write times within a session', () => {
    expect([0, 5.9, 65, 754, 3723].map((seconds) => writeElapsed(seconds))).toEqual([
      '0:00',
      '0:05',
      '1:05',
      '12:34',
      '1:02:03',
    ]);
  });

  it('should write tenths without rounding up into the next second', () => {
    expect([0.04, 9.99, 59.99, 60.1].map((seconds) => writeElapsed(seconds, true))).toEqual([
      '0:00.0',
      '0:09.9',
      '0:59.9',
      '1:00.1',
    ]);
    expect(writeElapsed(-1.5, true)).toBe('\u22120:01.5');
  });

  it('should write a running duration with one decimal and a space that does not break', () => {
    expect(writeSeconds(3.24)).toBe('3.2\u00a0s');
  });
});

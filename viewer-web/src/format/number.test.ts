import { describe, expect, it } from 'vitest';
import { steadyFigure, writeBytes, writeCount, writePercent, writePlain, writeShortTime } from './number';

describe('number', () => {
  it('should group whole numbers by three', () => {
    expect([0, 999, 1000, 1234567, -12345].map(writeCount)).toEqual([
      '0',
      '999',
      '1\u202f000',
      '1\u202f234\u202f567',
      '\u221212\u202f345',
    ]);
  });

  it('should write sizes in powers of a thousand', () => {
    expect([0, 999, 1000, 9949, 14_200, 999_600, 3_456_000_000].map(writeBytes)).toEqual([
      '0\u00a0B',
      '999\u00a0B',
      '1.0\u00a0kB',
      '9.9\u00a0kB',
      '14\u00a0kB',
      '1.0\u00a0MB',
      '3.5\u00a0GB',
    ]);
  });

  it('should write figures of health with few digits', () => {
    expect(writePlain(0.4213, 'ms')).toBe('0.42\u00a0ms');
    expect(writePlain(12.34, 'ms')).toBe('12.3\u00a0ms');
    expect(writePlain(1000.4, 'Hz')).toBe('1000\u00a0Hz');
    expect(writePlain(0.996, 'ms')).toBe('1.0\u00a0ms');
    expect(writeShortTime(0.0123)).toBe('12.3\u00a0ms');
    expect(writeShortTime(0.0000421)).toBe('42.1\u00a0\u00b5s');
    expect(writePercent(87.4)).toBe('87\u00a0%');
  });

  it('should give the steady figure one decimal whatever the uncertainty, which is never rounded down', () => {
    const figure = (value: number, standardUncertainty: number) =>
      steadyFigure({ value, standardUncertainty, unit: 'N' });
    expect(figure(512.34, 1.12)).toEqual({ value: '512.3', uncertainty: '(1.2)', unit: 'N' });
    expect(figure(-0.04, 0.0123)).toEqual({ value: '0.0', uncertainty: '(0.1)', unit: 'N' });
    expect(figure(3, 0.3)).toEqual({ value: '3.0', uncertainty: '(0.3)', unit: 'N' });
    expect(figure(-1234.56, 12.01)).toEqual({ value: '\u22121234.6', uncertainty: '(12.1)', unit: 'N' });
  });
});

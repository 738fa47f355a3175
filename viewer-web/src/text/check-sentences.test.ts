import { describe, expect, it } from 'vitest';
import type { QuickCheck } from '../live/check-api';
import { aloud, checkText, lastCheckText, overloadText } from './check-sentences';

const CHECK: QuickCheck = {
  by: 'A. Invented',
  load: 10,
  unit: 'kg',
  loadUPercent: 0.05,
  at: '2026-01-01T20:30:00Z',
  day: '2026-01-02',
  calibration: 'cell-7/0 v1',
  appliedN: 98.11,
  shownN: 98.3,
  differenceN: 0.19,
  limitN: 0.22,
  holds: true,
};

describe('the words of a quick check', () => {
  it('should say how far off the cell is and how far it may be', () => {
    expect(checkText(CHECK)).toBe(
      '2026-01-02: 10.00\u00a0kg shows +0.19(0.11)\u00a0N off, within its limit of 0.22\u00a0N',
    );
    expect(checkText({ ...CHECK, differenceN: -1.4, holds: false })).toContain('beyond its limit of 0.22\u00a0N');
    expect(lastCheckText({ warnings: [], checks: [CHECK], overloads: [] })).toBe('2026-01-02, within its limit');
    expect(lastCheckText(undefined)).toBe('none yet');
  });

  it('should date an overload and say where the converter ended', () => {
    const overload = {
      at: '2026-01-03T10:11:12Z',
      day: '2026-01-03',
      peakN: 650.4,
      shareOfRated: 1.3008,
      recording: 'a.pcapng',
    };
    expect(overloadText(overload)).toBe('2026-01-03: 650\u00a0N, 130\u00a0% of the rated load, recording a.pcapng');
    expect(overloadText({ ...overload, atLeast: true })).toContain('at least 650');
  });

  it('should not say aloud that no check was made', () => {
    const warnings = [
      { id: 'notCheckedToday', text: 'No quick check today.' },
      { id: 'leftLimits', text: 'At the check it was off.' },
    ];
    expect(aloud('Left', { warnings, checks: [], overloads: [] })).toEqual(['Left: At the check it was off.']);
  });
});

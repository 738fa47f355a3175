import { describe, expect, it } from 'vitest';
import type { Guide, GuideStep } from '../live/guide-api';
import { instruction, levelText, loadText, progressText, readLoads, takenText, versionText } from './guide-sentences';

const NBSP = '\u00a0';
const read = (applied: number, increasing = true): GuideStep => ({
  kind: 'read',
  run: '1',
  mounting: '1',
  increasing,
  applied,
});

describe('what the guided calibration asks for', () => {
  it('should say what to do in plain words', () => {
    expect(instruction(read(0), undefined, 'kg')).toBe('Take everything off.');
    expect(instruction(read(5), read(0), 'kg')).toBe(`Put 5.00${NBSP}kg on.`);
    expect(instruction(read(10), read(5), 'kg')).toBe(`Load up to 10.00${NBSP}kg, without going over.`);
    expect(instruction(read(5, false), read(10), 'kg')).toBe(`Take off down to 5.00${NBSP}kg, without going under.`);
    expect(instruction(read(100), read(0), 'N')).toBe(`Bring the reference to 100.0${NBSP}N.`);
    expect(instruction({ ...read(0), kind: 'mount' }, undefined, 'kg')).toMatch(/^Take the cell out/);
    expect(instruction({ ...read(20), kind: 'preload' }, undefined, 'kg')).toMatch(
      /^Put 20.00\u00a0kg on .* three times/,
    );
  });

  it('should keep every digit of a load that was weighed', () => {
    expect(loadText(5.012, 'kg')).toBe(`5.012${NBSP}kg`);
    expect(loadText(120, 'N')).toBe(`120.0${NBSP}N`);
  });

  it('should say where it stands', () => {
    const guide = { steps: [read(0), read(5)], done: 1, plan: { mountings: 2 } } as unknown as Guide;
    expect(progressText(guide)).toBe('Step 2 of 2, mounting 1 of 2, going up');
    expect(progressText({ ...guide, done: 2 })).toBe('All 2 steps are done.');
  });

  it('should show the load by earlier readings beside the counts', () => {
    expect(levelText({ ready: false }, 'kg')).toBe('\u2013');
    const level = { ready: true, meanCounts: 84210.4, sdCounts: 375 };
    expect(levelText(level, 'kg')).toBe(`84${'\u2009'}210 counts, scatter 375`.replace('\u2009', thin()));
    expect(levelText({ ...level, shown: 9.984 }, 'kg')).toMatch(/^about 9\.98\u00a0kg \(/);
  });

  it('should list what was taken', () => {
    const taken = { meanCounts: 1000, sdCounts: 3, samples: 9, seconds: 3, applied: 5, moving: false, at: '' };
    expect(takenText({ ...read(5, false), taken }, 'kg')).toMatch(/^5\.00\u00a0kg, down: 1.?000 counts, scatter 3$/);
    expect(takenText(read(5), 'kg')).toBe('');
  });

  it('should say of a saved version by whom, and whether it is over', () => {
    const version = {
      version: 2,
      id: 'c/0 v2',
      calibratedBy: 'A. Invented',
      evaluatedOn: '2026-03-01',
      validUntil: '2027-03-01',
      over: false,
      parabola: true,
      inUse: false,
    };
    expect(versionText(version)).toBe('Version 2, 2026-03-01 by A. Invented, parabola, valid until 2027-03-01');
    expect(versionText({ ...version, over: true, parabola: false })).toMatch(/, was valid until 2027-03-01$/);
  });
});

/** The separator of thousands that the viewer writes. */
function thin(): string {
  return levelText({ ready: true, meanCounts: 84210, sdCounts: 1 }, 'kg').charAt(2);
}

describe('loads as people type them', () => {
  it('should take spaces, semicolons and decimal commas', () => {
    expect(readLoads('5.01 10,03; 20')).toEqual([5.01, 10.03, 20]);
    expect(readLoads('5, 10, 20')).toEqual([5, 10, 20]);
  });

  it('should take no words and no nothing', () => {
    expect(readLoads('five')).toBeUndefined();
    expect(readLoads(' ')).toBeUndefined();
  });
});

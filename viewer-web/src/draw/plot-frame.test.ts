import { describe, expect, it } from 'vitest';
import { timeLabel, timeSplits } from './plot-frame';

const LIVE = { fromS: 90.3, toS: 100.3, held: false };
const HELD = { fromS: 90.3, toS: 100.3, held: true };

describe('the time axis', () => {
  it('should stand still at whole steps before now while it follows the stream', () => {
    const labels = (range: typeof LIVE) => timeSplits(range, 800).map((timeS) => timeLabel(timeS, range));
    expect(labels(LIVE)).toEqual([
      '\u221210\u00a0s',
      '\u22128\u00a0s',
      '\u22126\u00a0s',
      '\u22124\u00a0s',
      '\u22122\u00a0s',
      'now',
    ]);
    expect(labels({ ...LIVE, fromS: 90.316, toS: 100.316 })).toEqual(labels(LIVE));
  });

  it('should show session time at whole steps while it is held', () => {
    expect(timeSplits(HELD, 800).map((timeS) => timeLabel(timeS, HELD))).toEqual([
      '1:32',
      '1:34',
      '1:36',
      '1:38',
      '1:40',
    ]);
  });

  it('should show parts of a second where the window is short', () => {
    const short = { fromS: 98.3, toS: 100.3, held: false };
    expect(timeSplits(short, 800).map((timeS) => timeLabel(timeS, short))).toContain('\u22120.5\u00a0s');
    const held = { ...short, held: true };
    expect(timeSplits(held, 800).map((timeS) => timeLabel(timeS, held))).toContain('1:38.5');
  });

  it('should take fewer steps where there is little room', () => {
    expect(timeSplits(LIVE, 200).length).toBeLessThan(timeSplits(LIVE, 800).length);
  });
});

import { describe, expect, it } from 'vitest';
import { tapSentence, writeMs, writeOffsetMs } from './tap-sentences';

describe('alignment by a knock in words', () => {
  it('should say what to do and why it came to nothing', () => {
    expect(tapSentence({ type: 'tap', state: 'listening' })).toContain('strike once');
    expect(tapSentence({ type: 'tap', state: 'refused', reason: 'both clocks are known better without it.' })).toBe(
      'Not measured. Both clocks are known better without it.',
    );
    expect(tapSentence({ type: 'tap', state: 'lost', reason: 'the clock of a cell began anew.' })).toBe(
      'The alignment is lost: the clock of a cell began anew.',
    );
    expect(tapSentence(undefined)).toContain('knocks');
  });

  it('should write times of very unlike size with two digits', () => {
    expect(writeMs(0.0078)).toBe('7.8\u00a0ms');
    expect(writeMs(0.0000087)).toBe('0.0087\u00a0ms');
    expect(writeMs(0.012)).toBe('12\u00a0ms');
  });

  it('should write the offset with its uncertainty', () => {
    expect(writeOffsetMs({ value: -0.00748886, standardUncertainty: 0.0000063, unit: 's' })).toBe(
      '\u22127.4889(0.0063)\u00a0ms',
    );
  });
});

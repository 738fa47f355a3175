import { describe, expect, it } from 'vitest';
import { saidText } from './trial-sentences';

describe('saidText', () => {
  it('should say nothing where nothing is said', () => {
    expect(saidText({})).toBe('');
    expect(saidText({ left: {} })).toBe('');
  });

  it('should say all that is said, a limb after both', () => {
    expect(
      saidText({
        cue: 'explosive',
        fixation: 'belt',
        bodyMassKg: 71.5,
        right: { ownMaximumN: 396 },
        pullAngleLimitDeg: 5,
      }),
    ).toBe(
      'Trials: pushed fast and hard; cell held by a belt or strap; body mass 71.5\u00a0kg; pull within 5\u00b0; right: own maximum 396\u00a0N.',
    );
  });
});

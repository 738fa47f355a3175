import { describe, expect, it } from 'vitest';
import { saidIn } from './trials-dialog';

function form(values: Record<string, string>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries(values)) data.set(name, value);
  return data;
}

describe('saidIn', () => {
  it('should take what is filled in and leave out what is not', () => {
    const said = saidIn(form({ cue: 'ramped', fixation: '', bodyMassKg: '71.5', holdS: '' }), {
      fixation: 'hand',
      holdS: 3,
    });
    expect(said).toEqual({ cue: 'ramped', bodyMassKg: 71.5 });
  });

  it('should keep what it does not ask for', () => {
    const before = { gravity: 'add', gravityTorqueNm: 12, left: { angleDeg: 60, ownMaximumN: 400 } } as const;
    expect(saidIn(form({ 'left.ownMaximumN': '', 'right.ownMaximumN': '390' }), before)).toEqual({
      gravity: 'add',
      gravityTorqueNm: 12,
      left: { angleDeg: 60 },
      right: { ownMaximumN: 390 },
    });
  });

  it('should not keep the uncertainty of another mass', () => {
    const before = { bodyMassKg: 70, bodyMassStandardUncertaintyKg: 0.05 };
    expect(saidIn(form({ bodyMassKg: '70' }), before)).toEqual(before);
    expect(saidIn(form({ bodyMassKg: '71' }), before)).toEqual({ bodyMassKg: 71 });
  });
});

import { describe, expect, it } from 'vitest';
import type { Contraction, Effort } from '../live/events';
import { metricIds, resultList } from './result-list';
import { INITIAL_STATE } from './station-state';

function contraction(id: number, onsetS: number, offsetS?: number, metrics: Contraction['metrics'] = []): Contraction {
  const base = { type: 'contraction', revision: 'final', channel: 0, limb: 'left', flags: [], metrics } as const;
  return offsetS === undefined ? { ...base, id, onsetS } : { ...base, id, onsetS, offsetS };
}

const EFFORT: Effort = {
  type: 'effort',
  id: 7,
  leftContractionId: 1,
  rightContractionId: 2,
  asymmetry: { id: 'asymmetry.log', notComputed: 'x' },
};

describe('resultList', () => {
  it('should join what belongs together, list what stands alone, and leave out what is under way', () => {
    const state = {
      ...INITIAL_STATE,
      contractions: [contraction(2, 1, 4), contraction(1, 1.1, 4), contraction(3, 9, 12), contraction(4, 20)],
      efforts: [EFFORT],
    };
    const entries = resultList(state, 10);
    expect(entries.map((entry) => entry.key)).toEqual(['contraction-3', 'effort-7']);
    expect(entries[1]?.contractions.map((one) => one.id)).toEqual([1, 2]);
    expect(entries[1]?.onsetS).toBe(1);
    expect(resultList(state, 1)).toHaveLength(1);
  });

  it('should not show an effort of which one half is not known', () => {
    const state = { ...INITIAL_STATE, contractions: [contraction(1, 1, 4)], efforts: [EFFORT] };
    expect(resultList(state, 10).map((entry) => entry.key)).toEqual(['contraction-1']);
  });

  it('should list each metric once, in the order of the station', () => {
    const metrics = (...ids: string[]) => ids.map((id) => ({ id, notComputed: 'x' }));
    const entry = {
      key: 'x',
      onsetS: 0,
      contractions: [contraction(1, 1, 2, metrics('a', 'b')), contraction(2, 1, 2, metrics('a', 'c'))],
    };
    expect(metricIds(entry)).toEqual(['a', 'b', 'c']);
  });
});

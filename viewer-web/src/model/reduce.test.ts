import { describe, expect, it } from 'vitest';
import type { Contraction, Effort, HelloEvent, LinkEvent, ReplayEvent, StationEvent } from '../live/events';
import { KEPT_CONTRACTIONS, KEPT_NOTICES, reduce } from './reduce';
import { INITIAL_STATE, lastContraction, openContraction, type StationState, shownChannels } from './station-state';

const HELLO: HelloEvent = {
  type: 'hello',
  schema: 'heldmark.live/1',
  version: '0.1.0',
  sessionId: 'a',
  run: 1,
  mode: 'live',
  startedAt: '2026-01-02T10:00:00Z',
  nowS: 5,
  channels: [],
  links: [{ type: 'link', link: 'serial:/dev/a', state: 'streaming' }],
  zeros: [{ type: 'zero', channel: 0, state: 'taken', atS: 2 }],
  recording: { type: 'recording', state: 'on', file: 'one.pcapng' },
  contractions: [],
  efforts: [],
};

function contraction(id: number, onsetS: number, more: Partial<Contraction> = {}): Contraction {
  return {
    type: 'contraction',
    id,
    revision: 'provisional',
    channel: 0,
    limb: 'left',
    onsetS,
    flags: [],
    metrics: [],
    ...more,
  };
}

function effort(id: number): Effort {
  return { type: 'effort', id, leftContractionId: 1, rightContractionId: 2, asymmetry: { id: 'asymmetry.log' } };
}

function stateAfter(...events: StationEvent[]): StationState {
  return events.reduce((state, event, i) => reduce(state, event, i), INITIAL_STATE);
}

describe('reduce', () => {
  it('should take everything from hello', () => {
    const state = stateAfter({ ...HELLO, invented: true, contractions: [contraction(1, 3)], efforts: [effort(1)] });
    expect(state.session).toEqual({
      id: 'a',
      run: 1,
      version: '0.1.0',
      mode: 'live',
      startedAtMs: Date.UTC(2026, 0, 2, 10),
      invented: true,
    });
    expect(state.links[0]).toMatchObject({ state: 'streaming', stateSinceS: 5 });
    expect(state.zeros.get(0)?.state).toBe('taken');
    expect(state.recording.file).toBe('one.pcapng');
    expect(state.target).toBeUndefined();
    expect(state.contractions).toHaveLength(1);
    expect(state.efforts).toHaveLength(1);
  });

  it('should keep older results when the same session is joined again and drop those of another', () => {
    const before = stateAfter(HELLO, contraction(1, 1), contraction(2, 4), { type: 'mark', atS: 1, text: 'x' });
    const again = reduce(before, { ...HELLO, contractions: [contraction(2, 4, { revision: 'final' })] }, 9);
    expect(again.contractions.map((one) => [one.id, one.revision])).toEqual([
      [1, 'provisional'],
      [2, 'final'],
    ]);
    expect(again.marks).toHaveLength(1);
    const other = reduce(before, { ...HELLO, sessionId: 'b' }, 9);
    expect(other.contractions).toHaveLength(0);
    expect(other.marks).toHaveLength(0);
  });

  it('should replace a contraction by its later revision and order by onset', () => {
    const state = stateAfter(
      contraction(1, 10),
      contraction(2, 12),
      contraction(1, 9.9, { revision: 'final', offsetS: 13 }),
      contraction(3, 11),
    );
    expect(state.contractions.map((one) => one.id)).toEqual([1, 3, 2]);
    expect(state.contractions[0]?.revision).toBe('final');
    expect(openContraction(state, 0)?.id).toBe(2);
    expect(lastContraction(state, 0)?.id).toBe(1);
    expect(openContraction(state, 1)).toBeUndefined();
  });

  it('should take away a contraction that is withdrawn', () => {
    const state = stateAfter(contraction(1, 1), contraction(2, 2), contraction(1, 1, { revision: 'withdrawn' }));
    expect(state.contractions.map((one) => one.id)).toEqual([2]);
  });

  it('should bound its lists', () => {
    let state = INITIAL_STATE;
    for (let i = 0; i < KEPT_CONTRACTIONS + 10; i++) state = reduce(state, contraction(i, i), i);
    expect(state.contractions).toHaveLength(KEPT_CONTRACTIONS);
    expect(state.contractions[0]?.id).toBe(10);
    for (let i = 0; i < KEPT_NOTICES + 5; i++) {
      state = reduce(state, { type: 'notice', severity: 'info', text: String(i) }, i);
    }
    expect(state.notices).toHaveLength(KEPT_NOTICES);
  });

  it('should remember since when a link is in its state', () => {
    const link = (state: LinkEvent['state'], lostSamples: number): LinkEvent => ({
      type: 'link',
      link: 'a',
      state,
      lostSamples,
    });
    const state = stateAfter(link('streaming', 0), link('streaming', 1), link('lost', 2), link('lost', 3));
    expect(state.links).toEqual([{ ...link('lost', 3), stateSinceS: 2 }]);
  });

  it('should fold the same notice into one', () => {
    const notice: StationEvent = { type: 'notice', severity: 'warning', text: 'bytes skipped' };
    const state = stateAfter(notice, { ...notice, text: 'other' }, notice);
    expect(state.notices.map((one) => [one.text, one.count])).toEqual([
      ['other', 1],
      ['bytes skipped', 2],
    ]);
  });

  it('should treat a target without force as none', () => {
    expect(stateAfter({ type: 'target', forceN: 200, tolerancePercent: 10 }).target?.forceN).toBe(200);
    expect(
      stateAfter({ type: 'target', forceN: 200, tolerancePercent: 10 }, { type: 'target' }).target,
    ).toBeUndefined();
  });

  it('should keep what is said of the trials, until something else is', () => {
    const said = stateAfter({ type: 'trials', cue: 'ramped', left: { ownMaximumN: 400 } });
    expect(said.trials).toEqual({ cue: 'ramped', left: { ownMaximumN: 400 } });
    expect(reduce(said, { type: 'trials' }, 0).trials).toEqual({});
    expect(stateAfter({ ...HELLO, trials: { type: 'trials', holdS: 3 } }).trials).toEqual({ holdS: 3 });
  });

  it('should forget results where a replay begins anew, and neither before nor after', () => {
    const at = (positionS: number): ReplayEvent => ({
      type: 'replay',
      file: 'one.pcapng',
      positionS,
      durationS: 60,
      speed: 1,
      paused: false,
      ended: false,
    });
    const ids = (state: StationState) => state.contractions.map((one) => one.id);
    const asked = stateAfter({ ...HELLO, replay: at(0) }, contraction(1, 3), at(5), at(0));
    expect(ids(asked)).toEqual([1]);
    const again = reduce(asked, { ...HELLO, run: 2, replay: at(0) }, 0);
    expect(ids(again)).toEqual([]);
    expect(ids([contraction(7, 3), at(4), at(0.1)].reduce((s, e) => reduce(s, e, 0), again))).toEqual([7]);
  });

  it('should change only the levels that an event names', () => {
    const level = (channel: number, value: number): StationEvent => ({
      type: 'level',
      channels: [{ channel, forceN: { value, standardUncertainty: 1, unit: 'N' }, state: 'rest' }],
    });
    const state = stateAfter(level(0, 1), level(1, 2), level(0, 3));
    expect([...state.levels.values()].map((one) => one.forceN?.value)).toEqual([3, 2]);
  });
});

describe('shownChannels', () => {
  const channel = (number: number, limb: 'left' | 'right' | 'none') => ({
    channel: number,
    link: 'a',
    name: `cell ${number}`,
    limb,
    sampleRateHz: 1000,
    unit: 'N' as const,
    calibration: 'factory' as const,
  });

  it('should put the left limb first whatever the order of the channels', () => {
    const shown = shownChannels([channel(0, 'right'), channel(1, 'none'), channel(2, 'left')]);
    expect(shown.map((one) => [one.channel.channel, one.line])).toEqual([
      [2, 'solid'],
      [0, 'dashed'],
    ]);
  });

  it('should show the first two channels where no limb is named', () => {
    expect(shownChannels([channel(0, 'none'), channel(1, 'none'), channel(2, 'none')])).toHaveLength(2);
    expect(shownChannels([])).toEqual([]);
  });

  it('should keep the right limb dashed when it is alone', () => {
    expect(shownChannels([channel(0, 'right')])[0]?.line).toBe('dashed');
  });
});

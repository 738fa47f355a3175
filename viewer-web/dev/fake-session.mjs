// One session of the station double: time, samples, contractions, and the events about them.

import { channelsOf, linkEvent, linksOf, STATES } from './fake-states.mjs';
import { CYCLE_S, FakeLimb } from './fake-trace.mjs';

const RATE_HZ = 1000;
const HISTORY_CYCLES = 3;

export class FakeSession {
  constructor(name, send) {
    this.name = name;
    this.send = send;
    this.base = STATES[name];
    this.state = { ...this.base };
    this.id = `double-${name}-${Date.now()}`;
    this.startedMs = Date.now() - HISTORY_CYCLES * CYCLE_S * 1000;
    const peaksN = this.state.peaksN ?? [512, 486];
    const noiseN = this.state.noiseN ?? 0.4;
    this.limbs = [
      new FakeLimb({ peakN: peaksN[0], seed: 1, noiseN }),
      new FakeLimb({ peakN: peaksN[1], seed: 2, lagS: 0.021, noiseN }),
    ];
    this.sampled = [Math.round(this.nowS() * RATE_HZ), Math.round(this.nowS() * RATE_HZ)];
    this.recent = [[], []];
    this.contractions = new Map();
    this.efforts = [];
    this.zeros = channelsOf(this.state).map(({ channel }) => zeroTaken(channel, 1));
    this.recording = this.state.recording ?? { type: 'recording', state: 'off' };
    this.target = this.state.target;
    this.trials = {};
    this.run = 1;
    this.replay = { type: 'replay', file: '2026-01-02T101512.pcapng', durationS: 120, speed: 1, paused: false };
    for (let cycle = 0; cycle < HISTORY_CYCLES; cycle++) this.finish(cycle, () => {});
    this.finished = HISTORY_CYCLES;
  }

  nowS() {
    return ((this.pausedMs ?? Date.now()) - this.startedMs) / 1000;
  }

  /** Pauses, resumes and restarts a replay; its speed is taken note of, but the double keeps to real time. */
  control({ paused, speed, restart }) {
    if (paused === true) this.pausedMs ??= Date.now();
    if (paused === false && this.pausedMs !== undefined) {
      this.startedMs += Date.now() - this.pausedMs;
      this.pausedMs = undefined;
    }
    this.replay = { ...this.replay, paused: this.pausedMs !== undefined, ...(speed === undefined ? {} : { speed }) };
    if (!restart) return;
    this.run++;
    this.startedMs = this.pausedMs ?? Date.now();
    this.sampled = [0, 0];
    this.finished = 0;
    this.contractions.clear();
    this.efforts = [];
  }

  /** Takes the properties of another state without a new session: for states that begin in the middle of a stream. */
  become(name) {
    this.state = { ...this.base, ...STATES[name] };
    for (let i = 0; i < linksOf(this.state).length; i++) this.send(linkEvent(this.state, i, this));
    if (STATES[name].recording) this.setRecording(STATES[name].recording);
  }

  hello() {
    return {
      type: 'hello',
      schema: 'heldmark.live/1',
      version: '0.1.0',
      sessionId: this.id,
      run: this.run,
      mode: this.state.mode ?? 'live',
      startedAt: new Date(this.startedMs).toISOString(),
      nowS: this.nowS(),
      channels: channelsOf(this.state),
      links: linksOf(this.state).map((_, i) => linkEvent(this.state, i, this)),
      zeros: this.zeros,
      recording: this.recording,
      ...(this.target ? { target: this.target } : {}),
      ...(Object.keys(this.trials).length > 0 ? { trials: { type: 'trials', ...this.trials } } : {}),
      ...(this.state.mode === 'replay' ? { replay: this.replayEvent() } : {}),
      contractions: channelsOf(this.state).length > 0 ? [...this.contractions.values()] : [],
      efforts: channelsOf(this.state).length > 1 ? this.efforts : [],
      ...(this.state.invented === false ? {} : { invented: true }),
    };
  }

  replayEvent() {
    const positionS = Math.min(this.nowS(), this.replay.durationS);
    return { ...this.replay, positionS, ended: positionS >= this.replay.durationS };
  }

  setRecording(recording) {
    this.recording = recording;
    this.send(recording);
  }

  zero(channels) {
    const wanted = channels ?? channelsOf(this.state).map(({ channel }) => channel);
    for (const channel of wanted) {
      this.setZero({ type: 'zero', channel, state: 'taking', atS: this.nowS() });
      setTimeout(() => {
        const pulling = this.isPulling(channel, this.nowS());
        const reason = 'the force was not steady; let the limb rest and try again';
        const refused = { type: 'zero', channel, state: 'refused', atS: this.nowS(), reason };
        this.setZero(pulling ? refused : zeroTaken(channel, this.nowS()));
      }, 1000);
    }
  }

  setZero(zero) {
    this.zeros = [...this.zeros.filter((one) => one.channel !== zero.channel), zero];
    this.send(zero);
  }

  isPulling(channel, timeS) {
    const limb = this.limbs[channel];
    const cycle = Math.floor(timeS / CYCLE_S);
    return limb.peakN > 0 && timeS >= limb.onsetS(cycle) && timeS < limb.offsetS(cycle);
  }

  /** New samples since the last call, as one binary message; undefined where there are none. */
  trace() {
    const blocks = [];
    for (const { channel } of channelsOf(this.state)) {
      const upTo = Math.floor(this.nowS() * RATE_HZ);
      const from = this.sampled[channel];
      this.sampled[channel] = upTo;
      if (upTo <= from) continue;
      const values = new Float32Array(upTo - from);
      for (let i = 0; i < values.length; i++) values[i] = this.limbs[channel].forceN((from + i) / RATE_HZ - 0.011);
      this.recent[channel] = [...this.recent[channel], ...values].slice(-100);
      const streaming = this.state.stream?.[channel] ?? true;
      const inGap = this.state.gaps === true && channel === 0 && (from / RATE_HZ) % 5 < 0.3;
      if (streaming && !inGap) blocks.push(this.block(channel, from, values));
    }
    return blocks.length === 0 ? undefined : Buffer.concat(blocks);
  }

  block(channel, from, samples) {
    const width = this.state.pairs ? 8 : 0;
    const values = width > 0 ? pairs(samples, width) : samples;
    const bytes = Buffer.alloc(24 + 4 * values.length);
    bytes.writeUInt8(1, 0);
    bytes.writeUInt8(width > 0 ? 2 : 1, 1);
    bytes.writeUInt16LE(channel, 2);
    bytes.writeUInt32LE(width > 0 ? values.length / 2 : values.length, 4);
    bytes.writeBigInt64LE(BigInt(from) * 1_000_000n, 8);
    bytes.writeDoubleLE(width > 0 ? (samples.length / (values.length / 2)) * 1e6 : 1e6, 16);
    for (let i = 0; i < values.length; i++) bytes.writeFloatLE(values[i], 24 + 4 * i);
    return bytes;
  }

  levels() {
    const channels = channelsOf(this.state).map(({ channel, unit }) => {
      if (this.state.stream?.[channel] === false) return { channel, state: 'lost' };
      const recent = this.recent[channel];
      const value = recent.reduce((sum, one) => sum + one, 0) / Math.max(1, recent.length);
      const standardUncertainty = unit === 'N' ? Math.hypot(0.002 * value, 0.21) : 12;
      const state = unit === 'N' ? (this.isPulling(channel, this.nowS()) ? 'contraction' : 'rest') : 'uncalibrated';
      return { channel, forceN: { value, standardUncertainty, unit }, state };
    });
    return { type: 'level', channels };
  }

  /** Opens and finishes contractions whose time has come. */
  contractionEvents(send) {
    if (channelsOf(this.state)[0]?.unit !== 'N' || this.limbs[0].peakN === 0) return;
    const nowS = this.nowS();
    const cycle = Math.floor(nowS / CYCLE_S);
    for (const { channel } of channelsOf(this.state)) {
      const id = cycle * 2 + channel + 1;
      const open = !this.contractions.has(id) && nowS > this.limbs[channel].onsetS(cycle) + 0.04;
      if (!open || this.state.stream?.[channel] === false) continue;
      const event = this.contraction(channel, cycle, false);
      this.contractions.set(id, event);
      send(event);
    }
    if (cycle >= this.finished && nowS > this.limbs[1].offsetS(cycle) + 0.4) {
      this.finish(cycle, send);
      this.finished = cycle + 1;
    }
  }

  finish(cycle, send) {
    const channels = channelsOf(this.state).filter(({ channel }) => this.state.stream?.[channel] !== false);
    if (channels[0]?.unit !== 'N' || this.limbs[0].peakN === 0) return;
    for (const { channel } of channels) {
      const event = this.contraction(channel, cycle, true);
      this.contractions.set(event.id, event);
      send(event);
    }
    if (channels.length < 2) return;
    const effort = this.effort(cycle);
    this.efforts.push(effort);
    send(effort);
  }

  contraction(channel, cycle, final) {
    const limb = this.limbs[channel];
    const event = {
      type: 'contraction',
      id: cycle * 2 + channel + 1,
      revision: final ? 'final' : 'provisional',
      channel,
      limb: (this.state.limbs ?? ['left', 'right'])[channel],
      onsetS: limb.onsetS(cycle),
      restingLevelN: 0.3,
      flags: [],
      metrics: [],
    };
    if (!final) return event;
    const peakN = limb.cyclePeakN(cycle) * 0.995;
    const durationS = limb.offsetS(cycle) - limb.onsetS(cycle);
    const preTension = { id: 'pre-tension', text: 'There was already tension before the contraction.' };
    return {
      ...event,
      onsetStandardUncertaintyS: 0.0032,
      releaseStartS: limb.releaseS(cycle),
      releaseStartStandardUncertaintyS: 0.0087,
      offsetS: limb.offsetS(cycle),
      offsetStandardUncertaintyS: 0.0052,
      flags: cycle % 3 === 1 ? [preTension] : [],
      metrics: [
        peak(peakN),
        { id: 'force.mean.best-1s', value: peakN * 0.99, standardUncertainty: 0.002 * peakN, unit: 'N' },
        { id: 'duration', value: durationS, standardUncertainty: 0.0061, unit: 's' },
        { id: 'impulse.total', value: peakN * durationS * 0.87, standardUncertainty: 4.1, unit: 'N\u00b7s' },
        { id: 'steadiness.cv', value: 1.42, standardUncertainty: 0.09, unit: '%' },
        { id: 'rfd.0-50ms', value: peakN * 2.9, standardUncertainty: 31, unit: 'N/s' },
        { id: 'rfd.0-100ms', value: peakN * 2.7, standardUncertainty: 17, unit: 'N/s' },
        ...['150', '200', '250'].map((ms) => ({
          id: `rfd.0-${ms}ms`,
          notComputed: 'fixation is not declared rigid',
        })),
        ...['torque.peak', 'torque.peak.per-kg'].map((id) => ({ id, notComputed: 'no lever arm is known' })),
        { id: 'force.peak.per-kg', notComputed: 'no body mass is known' },
      ],
    };
  }

  effort(cycle) {
    const [left, right] = this.limbs.map((limb) => limb.cyclePeakN(cycle));
    return {
      type: 'effort',
      id: cycle + 1,
      leftContractionId: cycle * 2 + 1,
      rightContractionId: cycle * 2 + 2,
      onsetLagS: -0.021,
      onsetLagStandardUncertaintyS: 0.0047,
      asymmetry: {
        id: 'asymmetry.log',
        value: 100 * Math.log(left / right),
        standardUncertainty: 0.29,
        unit: '%',
      },
      flags: [],
      formula: '100 times the natural logarithm of left peak force over right peak force',
    };
  }
}

function peak(value) {
  const parts = { calibration: 0.002 * value, zero: 0.08, noise: 0.19 };
  const standardUncertainty = Math.hypot(...Object.values(parts));
  const budget = Object.entries(parts).map(([term, u]) => {
    return { term, standardUncertainty: u, share: (u / standardUncertainty) ** 2 };
  });
  return { id: 'force.peak', value, standardUncertainty, unit: 'N', budget };
}

function zeroTaken(channel, atS) {
  return { type: 'zero', channel, state: 'taken', atS, zero: { value: -3.42, standardUncertainty: 0.08, unit: 'N' } };
}

function pairs(samples, width) {
  const count = Math.max(1, Math.round(samples.length / width));
  const values = new Float32Array(count * 2);
  for (let i = 0; i < count; i++) {
    const from = Math.floor((i * samples.length) / count);
    const part = samples.subarray(from, Math.max(from + 1, Math.floor(((i + 1) * samples.length) / count)));
    values[2 * i] = Math.min(...part);
    values[2 * i + 1] = Math.max(...part);
  }
  return values;
}

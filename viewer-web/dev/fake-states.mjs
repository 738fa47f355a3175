// What the station double can pretend to be. Each state changes a few things of the normal one.

const RIGHT_FAULT =
  'no permission to open /dev/ttyUSB1: add yourself to the group dialout (sudo usermod -aG dialout $USER), then log in again';

export const STATES = {
  normal: {},
  quiet: { peaksN: [0, 0] },
  strong: { peaksN: [1512, 1388] },
  empty: { links: [] },
  connecting: { linkState: ['connecting', 'connecting'], stream: [false, false], describe: false },
  waiting: { linkState: ['waiting', 'waiting'], stream: [false, false], describe: false },
  lost: { linkState: ['lost', 'streaming'], stream: [false, true], reason: ['the port is gone', undefined] },
  fault: { linkState: ['streaming', 'fault'], stream: [true, false], reason: [undefined, RIGHT_FAULT] },
  uncalibrated: { unit: 'count', peaksN: [182_000, 171_000], noiseN: 60 },
  'recording-failed': {
    recording: { type: 'recording', state: 'failed', file: 'session.pcapng', reason: 'no space left on the disk' },
  },
  recording: {
    recording: {
      type: 'recording',
      state: 'on',
      file: '2026-01-02T101512.pcapng',
      bytes: 1_843_200,
      sinceS: 0,
      complete: true,
    },
  },
  reduced: { pairs: true },
  replay: { mode: 'replay' },
  gaps: { gaps: true },
  single: { limbs: ['none'], invented: false },
  target: { target: { type: 'target', forceN: 450, tolerancePercent: 8 } },
  refused: { refused: true },
  down: { down: true },
};

export function linksOf(state) {
  if (state.links) return state.links;
  return state.limbs?.length === 1 ? ['serial:/dev/ttyUSB0'] : ['serial:/dev/ttyUSB0', 'serial:/dev/ttyUSB1'];
}

export function channelsOf(state) {
  if (state.describe === false) return [];
  const limbs = state.limbs ?? ['left', 'right'];
  const unit = state.unit ?? 'N';
  return linksOf(state).map((link, channel) => ({
    channel,
    link,
    deviceId: `double-${channel + 1}`,
    deviceChannel: 0,
    name: `cell ${channel + 1}`,
    limb: limbs[channel],
    sampleRateHz: 1000,
    bandwidthHz: 260,
    ratedLoadN: 2000,
    unit,
    calibration: unit === 'N' ? 'factory' : 'unknown',
    ...(unit === 'N' ? { calibrationRelativeU: 0.002 } : {}),
    resolution: unit === 'N' ? 0.01 : 1,
    traceDelayS: 0.011,
    traceFilter: 'low-pass 20 Hz, order 2',
  }));
}

export function linkEvent(state, index, session) {
  const streaming = state.stream?.[index] ?? true;
  const reason = state.reason?.[index];
  return {
    type: 'link',
    link: linksOf(state)[index],
    state: state.linkState?.[index] ?? 'streaming',
    ...(reason ? { reason } : {}),
    sampleRateHz: streaming ? 1000.02 - index * 0.05 : 0,
    nominalRateHz: 1000,
    arrivalJitterS: 0.0042 + index * 0.0007,
    timeStandardUncertaintyS: 0.00031 + index * 0.0001,
    clockSkewPpm: index === 0 ? 18.4 : -42.9,
    samples: Math.round(session.nowS() * 1000),
    lostSamples: state.gaps ? 300 * Math.floor(session.nowS() / 5) : index * 12,
    skippedBytes: 0,
    crcFailures: index,
    duplicates: 0,
    reordered: 0,
    reconnects: 0,
    clockRestarts: 0,
    batteryPercent: 87 - index * 23,
    temperatureC: 24.5,
  };
}

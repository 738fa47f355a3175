/**
 * The JSON events of the station, as docs/live-protocol.md defines them. Times are seconds of station time; an absent
 * field is a value that is not known.
 */

import type { Quantity } from '../format/quantity';

export type Limb = 'left' | 'right' | 'none';

/** A part of a standard uncertainty; `share` of its square. */
export interface BudgetTerm {
  readonly term: string;
  readonly standardUncertainty: number;
  readonly share: number;
}

/** What a reader must know: a stable word and a sentence. */
export interface Flag {
  readonly id: string;
  readonly text: string;
}

export interface Metric {
  readonly id: string;
  readonly value?: number;
  readonly standardUncertainty?: number;
  readonly unit?: string;
  readonly budget?: readonly BudgetTerm[];
  readonly notComputed?: string;
}

export interface Channel {
  readonly channel: number;
  readonly link: string;
  readonly deviceId?: string;
  readonly deviceChannel?: number;
  readonly name: string;
  readonly limb: Limb;
  readonly sampleRateHz: number;
  readonly bandwidthHz?: number;
  readonly ratedLoadN?: number;
  readonly unit: 'N' | 'count';
  readonly calibration: 'factory' | 'station' | 'unknown';
  readonly calibrationRelativeU?: number;
  readonly resolution?: number;
  readonly traceDelayS?: number;
  readonly traceFilter?: string;
}

export interface ChannelLevel {
  readonly channel: number;
  readonly forceN?: Quantity;
  readonly state: 'rest' | 'contraction' | 'uncalibrated' | 'lost';
  /** Where the force on a plate acts, in mm, or why that is not measured; absent where the channel is no plate. */
  readonly centreX?: Quantity;
  readonly centreY?: Quantity;
  readonly centreNotMeasured?: string;
}

export interface Contraction {
  readonly type: 'contraction';
  readonly id: number;
  /** `withdrawn`: it turned out to be handling and is taken away. */
  readonly revision: 'provisional' | 'final' | 'manual' | 'withdrawn';
  readonly channel: number;
  readonly limb: Limb;
  readonly onsetS: number;
  readonly onsetStandardUncertaintyS?: number;
  readonly releaseStartS?: number;
  readonly releaseStartStandardUncertaintyS?: number;
  readonly offsetS?: number;
  readonly offsetStandardUncertaintyS?: number;
  readonly restingLevelN?: number;
  readonly flags: readonly Flag[];
  readonly metrics: readonly Metric[];
}

export interface Effort {
  readonly type: 'effort';
  readonly id: number;
  readonly leftContractionId: number;
  readonly rightContractionId: number;
  readonly onsetLagS?: number;
  readonly onsetLagStandardUncertaintyS?: number;
  readonly clocksStandardUncertaintyS?: number;
  readonly asymmetry: Metric;
  readonly formula?: string;
  readonly flags?: readonly Flag[];
}

export type LinkState = 'connecting' | 'waiting' | 'streaming' | 'lost' | 'fault';

export interface LinkEvent {
  readonly type: 'link';
  readonly link: string;
  readonly state: LinkState;
  readonly reason?: string;
  readonly sampleRateHz?: number;
  readonly nominalRateHz?: number;
  readonly arrivalJitterS?: number;
  readonly timeStandardUncertaintyS?: number;
  readonly clockSkewPpm?: number;
  readonly samples?: number;
  readonly lostSamples?: number;
  readonly skippedBytes?: number;
  readonly crcFailures?: number;
  readonly duplicates?: number;
  readonly putBack?: number;
  readonly reordered?: number;
  readonly reconnects?: number;
  readonly clockRestarts?: number;
  readonly batteryPercent?: number;
  readonly temperatureC?: number;
}

export interface ZeroEvent {
  readonly type: 'zero';
  readonly channel: number;
  readonly state: 'none' | 'taking' | 'taken' | 'refused';
  readonly atS?: number;
  readonly zero?: Quantity;
  readonly reason?: string;
}

export interface RecordingEvent {
  readonly type: 'recording';
  readonly state: 'off' | 'on' | 'failed';
  readonly file?: string;
  readonly bytes?: number;
  readonly sinceS?: number;
  readonly complete?: boolean;
  readonly reason?: string;
}

export interface TargetEvent {
  readonly type: 'target';
  readonly forceN?: number;
  readonly tolerancePercent?: number;
}

/** What is said of trials: each member absent where nothing is said. */
export interface Said {
  readonly cue?: 'explosive' | 'ramped';
  readonly fixation?: 'hand' | 'belt' | 'rigid';
  readonly contact?: 'cuff' | 'heelPlate';
  readonly effortType?: 'isometric' | 'eccentric';
  readonly zeroing?: 'inPosture' | 'unloaded';
  readonly gravity?: 'removedByZero' | 'add' | 'subtract' | 'none';
  readonly ownMaximumN?: number;
  readonly targetForceN?: number;
  readonly holdS?: number;
  readonly bodyMassKg?: number;
  readonly bodyMassStandardUncertaintyKg?: number;
  readonly leverArmM?: number;
  readonly leverArmStandardUncertaintyM?: number;
  readonly angleDeg?: number;
  readonly angleStandardUncertaintyDeg?: number;
  readonly gravityTorqueNm?: number;
  readonly gravityTorqueStandardUncertaintyNm?: number;
  readonly pullAngleLimitDeg?: number;
}

/** What is said of the trials from now on: of both limbs, and of each, which goes before. */
export interface SaidOfTrials extends Said {
  readonly left?: Said;
  readonly right?: Said;
}

export interface TrialsEvent extends SaidOfTrials {
  readonly type: 'trials';
}

export interface TapEvent {
  readonly type: 'tap';
  readonly state: 'none' | 'listening' | 'measured' | 'refused' | 'lost';
  readonly leftChannel?: number;
  readonly rightChannel?: number;
  readonly reason?: string;
  readonly count?: number;
  readonly offset?: Quantity;
  readonly standardDeviationS?: number;
  readonly clocksStandardUncertaintyS?: number;
  readonly untiedStandardUncertaintyS?: number;
}

export interface MarkEvent {
  readonly type: 'mark';
  readonly atS: number;
  readonly text: string;
}

export interface ReplayEvent {
  readonly type: 'replay';
  readonly file: string;
  readonly positionS: number;
  readonly durationS: number;
  readonly speed: number;
  readonly paused: boolean;
  readonly ended: boolean;
}

export interface LatencyFigures {
  readonly count: number;
  readonly p50: number;
  readonly p95: number;
  readonly p99: number;
  readonly max: number;
}

export interface LatencyEvent {
  readonly type: 'latency';
  readonly arrivalToDecodedMs?: LatencyFigures;
  readonly arrivalToSentMs?: LatencyFigures;
  readonly arrivalToPaintedMs?: LatencyFigures;
}

export interface ViewerEvent {
  readonly type: 'viewer';
  readonly delivery: 'full' | 'reduced';
  readonly reason?: string;
}

export interface NoticeEvent {
  readonly type: 'notice';
  readonly severity: 'info' | 'warning' | 'error';
  readonly text: string;
}

export interface HelloEvent {
  readonly type: 'hello';
  readonly schema: string;
  readonly version: string;
  readonly sessionId: string;
  /** Counts how often the session has begun: one more each time that a replay begins anew. */
  readonly run: number;
  readonly mode: 'live' | 'replay';
  readonly startedAt?: string;
  readonly nowS: number;
  readonly channels: readonly Channel[];
  readonly links: readonly LinkEvent[];
  readonly zeros: readonly ZeroEvent[];
  readonly recording: RecordingEvent;
  readonly target?: TargetEvent;
  readonly trials?: TrialsEvent;
  readonly tap?: TapEvent;
  readonly replay?: ReplayEvent;
  readonly contractions: readonly Contraction[];
  readonly efforts: readonly Effort[];
  readonly invented?: boolean;
}

export type StationEvent =
  | HelloEvent
  | { readonly type: 'channels'; readonly channels: readonly Channel[] }
  | { readonly type: 'level'; readonly channels: readonly ChannelLevel[] }
  | Contraction
  | Effort
  | LinkEvent
  | ZeroEvent
  | RecordingEvent
  | TargetEvent
  | TrialsEvent
  | TapEvent
  | MarkEvent
  | ReplayEvent
  | LatencyEvent
  | ViewerEvent
  | NoticeEvent;

export type Parsed =
  | { readonly ok: true; readonly event: StationEvent }
  | { readonly ok: false; readonly reason: string };

/** What must be there, and of which type, for an event to be used at all. */
const REQUIRED: Record<StationEvent['type'], Record<string, 'string' | 'number' | 'array' | 'object' | 'boolean'>> = {
  hello: {
    schema: 'string',
    sessionId: 'string',
    run: 'number',
    mode: 'string',
    nowS: 'number',
    channels: 'array',
    links: 'array',
  },
  channels: { channels: 'array' },
  level: { channels: 'array' },
  contraction: { id: 'number', revision: 'string', channel: 'number', onsetS: 'number', metrics: 'array' },
  effort: { id: 'number', leftContractionId: 'number', rightContractionId: 'number', asymmetry: 'object' },
  link: { link: 'string', state: 'string' },
  zero: { channel: 'number', state: 'string' },
  recording: { state: 'string' },
  target: {},
  trials: {},
  tap: { state: 'string' },
  mark: { atS: 'number', text: 'string' },
  replay: { file: 'string', positionS: 'number', durationS: 'number', speed: 'number', paused: 'boolean' },
  latency: {},
  viewer: { delivery: 'string' },
  notice: { severity: 'string', text: 'string' },
};

/** Reads one text message; a message that is not an event of the protocol is told apart, never guessed at. */
export function parseEvent(text: string): Parsed {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { ok: false, reason: 'not JSON' };
  }
  if (typeof json !== 'object' || json === null || Array.isArray(json)) return { ok: false, reason: 'not an object' };
  const fields = json as Record<string, unknown>;
  const type = fields.type;
  if (typeof type !== 'string' || !Object.hasOwn(REQUIRED, type)) return { ok: false, reason: `unknown type: ${type}` };
  for (const [name, kind] of Object.entries(REQUIRED[type as StationEvent['type']])) {
    if (kindOf(fields[name]) !== kind) return { ok: false, reason: `${type}.${name} is not a ${kind}` };
  }
  return { ok: true, event: json as StationEvent };
}

function kindOf(value: unknown): string {
  return Array.isArray(value) ? 'array' : typeof value;
}

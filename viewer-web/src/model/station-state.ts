/** What the viewer knows of the station: one immutable value, replaced by `reduce` at every event. */

import type {
  Channel,
  ChannelLevel,
  Contraction,
  Effort,
  LatencyEvent,
  Limb,
  LinkEvent,
  MarkEvent,
  NoticeEvent,
  RecordingEvent,
  ReplayEvent,
  SaidOfTrials,
  TapEvent,
  TargetEvent,
  ViewerEvent,
  ZeroEvent,
} from '../live/events';

export interface Session {
  readonly id: string;
  /** One more each time that a replay begins anew. */
  readonly run: number;
  readonly version: string;
  readonly mode: 'live' | 'replay';
  readonly startedAtMs: number | undefined;
  readonly invented: boolean;
}

/** A link with the station time at which its present state was first heard of. */
export type KnownLink = LinkEvent & { readonly stateSinceS: number };

/** A notice; the same text again only raises the count. */
export interface KnownNotice {
  readonly severity: NoticeEvent['severity'];
  readonly text: string;
  readonly atS: number;
  readonly count: number;
}

export interface StationState {
  readonly session: Session | undefined;
  readonly channels: readonly Channel[];
  readonly levels: ReadonlyMap<number, ChannelLevel>;
  readonly links: readonly KnownLink[];
  readonly zeros: ReadonlyMap<number, ZeroEvent>;
  readonly recording: RecordingEvent;
  readonly target: TargetEvent | undefined;
  /** What is said of the trials from now on; empty where nothing is. */
  readonly trials: SaidOfTrials;
  /** Alignment of both cells by a knock; absent until asked for. */
  readonly tap: TapEvent | undefined;
  readonly replay: ReplayEvent | undefined;
  readonly latency: LatencyEvent | undefined;
  readonly delivery: ViewerEvent;
  /** In the order of their onsets, the newest last. */
  readonly contractions: readonly Contraction[];
  readonly efforts: readonly Effort[];
  readonly marks: readonly MarkEvent[];
  readonly notices: readonly KnownNotice[];
}

export const INITIAL_STATE: StationState = {
  session: undefined,
  channels: [],
  levels: new Map(),
  links: [],
  zeros: new Map(),
  recording: { type: 'recording', state: 'off' },
  target: undefined,
  trials: {},
  tap: undefined,
  replay: undefined,
  latency: undefined,
  delivery: { type: 'viewer', delivery: 'full' },
  contractions: [],
  efforts: [],
  marks: [],
  notices: [],
};

/** Where a trace is shown: the first is drawn solid and dark, the second dashed and of middle tone. */
export interface ShownChannel {
  readonly channel: Channel;
  readonly line: 'solid' | 'dashed';
  readonly limb: Limb;
}

/** The channels on the newton axis: one per limb; where no limb is named, the first two channels. */
export function shownChannels(channels: readonly Channel[]): readonly ShownChannel[] {
  const left = channels.find((channel) => channel.limb === 'left');
  const right = channels.find((channel) => channel.limb === 'right');
  if (left === undefined && right === undefined) {
    return channels.slice(0, 2).map((channel, i) => ({ channel, line: i === 0 ? 'solid' : 'dashed', limb: 'none' }));
  }
  const shown: ShownChannel[] = [];
  if (left) shown.push({ channel: left, line: 'solid', limb: 'left' });
  if (right) shown.push({ channel: right, line: 'dashed', limb: 'right' });
  return shown;
}

/** The contraction that is under way on a channel. */
export function openContraction(state: StationState, channel: number): Contraction | undefined {
  return state.contractions.findLast((one) => one.channel === channel && one.offsetS === undefined);
}

/** The newest finished contraction of a channel. */
export function lastContraction(state: StationState, channel: number): Contraction | undefined {
  return state.contractions.findLast((one) => one.channel === channel && one.offsetS !== undefined);
}

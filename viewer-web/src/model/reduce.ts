/** Pure `next(state, event)`: no clock, no side effect. Lists are bounded; the oldest entries give way. */

import type {
  ChannelLevel,
  Contraction,
  Effort,
  HelloEvent,
  LinkEvent,
  NoticeEvent,
  SaidOfTrials,
  StationEvent,
  TrialsEvent,
} from '../live/events';
import { INITIAL_STATE, type KnownLink, type StationState } from './station-state';

export const KEPT_CONTRACTIONS = 400;
export const KEPT_EFFORTS = 200;
export const KEPT_MARKS = 100;
export const KEPT_NOTICES = 20;

/**
 * @param nowS station time at which the event was received
 */
export function reduce(state: StationState, event: StationEvent, nowS: number): StationState {
  switch (event.type) {
    case 'hello':
      return hello(state, event);
    case 'channels':
      return { ...state, channels: event.channels };
    case 'level':
      return { ...state, levels: withLevels(state.levels, event.channels) };
    case 'contraction':
      return { ...state, contractions: withContraction(state.contractions, event) };
    case 'effort':
      return { ...state, efforts: withEffort(state.efforts, event) };
    case 'link':
      return { ...state, links: withLink(state.links, event, nowS) };
    case 'zero':
      return { ...state, zeros: new Map(state.zeros).set(event.channel, event) };
    case 'recording':
      return { ...state, recording: event };
    case 'target':
      return { ...state, target: event.forceN === undefined ? undefined : event };
    case 'trials':
      return { ...state, trials: saidIn(event) };
    case 'tap':
      return { ...state, tap: event.state === 'none' ? undefined : event };
    case 'mark':
      return { ...state, marks: [...state.marks, event].slice(-KEPT_MARKS) };
    case 'replay':
      return { ...state, replay: event };
    case 'latency':
      return { ...state, latency: event };
    case 'viewer':
      return { ...state, delivery: event };
    case 'notice':
      return { ...state, notices: withNotice(state.notices, event, nowS) };
  }
}

/** False where everything measured so far is gone: another session, or a replay that has begun anew. */
export function isSameRun(state: StationState, event: HelloEvent): boolean {
  return state.session?.id === event.sessionId && state.session.run === event.run;
}

function hello(state: StationState, event: HelloEvent): StationState {
  const sameRun = isSameRun(state, event);
  let links: readonly KnownLink[] = sameRun ? state.links : [];
  for (const link of event.links) links = withLink(links, link, event.nowS);
  return {
    ...INITIAL_STATE,
    session: {
      id: event.sessionId,
      run: event.run,
      version: event.version,
      mode: event.mode,
      startedAtMs: epochMs(event.startedAt),
      invented: event.invented === true,
    },
    channels: event.channels,
    levels: sameRun ? state.levels : new Map(),
    links: links.filter((known) => event.links.some((link) => link.link === known.link)),
    zeros: new Map((event.zeros ?? []).map((zero) => [zero.channel, zero])),
    recording: event.recording ?? INITIAL_STATE.recording,
    target: event.target?.forceN === undefined ? undefined : event.target,
    trials: event.trials ? saidIn(event.trials) : {},
    tap: event.tap,
    replay: event.replay,
    contractions: merged(sameRun ? state.contractions : [], event.contractions ?? [], withContraction),
    efforts: merged(sameRun ? state.efforts : [], event.efforts ?? [], withEffort),
    marks: sameRun ? state.marks : [],
    notices: sameRun ? state.notices : [],
  };
}

function saidIn(event: TrialsEvent): SaidOfTrials {
  const { type: _, ...said } = event;
  return said;
}

function epochMs(iso: string | undefined): number | undefined {
  const time = iso === undefined ? Number.NaN : Date.parse(iso);
  return Number.isNaN(time) ? undefined : time;
}

function withLevels(
  levels: ReadonlyMap<number, ChannelLevel>,
  changed: readonly ChannelLevel[],
): ReadonlyMap<number, ChannelLevel> {
  const next = new Map(levels);
  for (const level of changed) next.set(level.channel, level);
  return next;
}

function merged<T>(known: readonly T[], more: readonly T[], add: (list: readonly T[], one: T) => readonly T[]) {
  return more.reduce(add, known);
}

/** A later revision takes the place of the earlier one, a withdrawn one goes; the order is that of the onsets. */
function withContraction(list: readonly Contraction[], event: Contraction): readonly Contraction[] {
  const others = list.filter((one) => one.id !== event.id);
  if (event.revision === 'withdrawn') return others;
  let at = others.length;
  while (at > 0 && (others[at - 1]?.onsetS ?? 0) > event.onsetS) at--;
  return [...others.slice(0, at), event, ...others.slice(at)].slice(-KEPT_CONTRACTIONS);
}

function withEffort(list: readonly Effort[], event: Effort): readonly Effort[] {
  return [...list.filter((one) => one.id !== event.id), event].slice(-KEPT_EFFORTS);
}

function withLink(links: readonly KnownLink[], event: LinkEvent, nowS: number): readonly KnownLink[] {
  const at = links.findIndex((one) => one.link === event.link);
  const before = links[at];
  const stateSinceS = before?.state === event.state ? before.stateSinceS : nowS;
  const known: KnownLink = { ...event, stateSinceS };
  return before === undefined ? [...links, known] : links.with(at, known);
}

function withNotice(notices: StationState['notices'], event: NoticeEvent, nowS: number): StationState['notices'] {
  const same = notices.find((one) => one.text === event.text && one.severity === event.severity);
  const others = notices.filter((one) => one !== same);
  const notice = { severity: event.severity, text: event.text, atS: nowS, count: (same?.count ?? 0) + 1 };
  return [...others, notice].slice(-KEPT_NOTICES);
}

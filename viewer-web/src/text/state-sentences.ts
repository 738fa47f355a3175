/** What the station and its links are doing, in words, with what a person can do about it. */

import { writeBytes } from '../format/number';
import { isKnown, type Quantity, writeQuantity, writeSigned } from '../format/quantity';
import type { ChannelLevel, LinkState, RecordingEvent, ReplayEvent, ZeroEvent } from '../live/events';
import type { ConnectionState } from '../live/socket-client';
import { words } from './words';

/** A sentence and how much it matters: 0 by the way, 1 worth a look, 2 something does not work. */
export interface Statement {
  readonly weight: 0 | 1 | 2;
  readonly text: string;
}

export interface LinkFacts {
  readonly name: string;
  readonly state: LinkState;
  readonly reason?: string | undefined;
  /** Time of day or of the session of the last sample, or of the change of state. */
  readonly since: string;
  /** Whether a recording is played: then nobody tries anything. */
  readonly played?: boolean;
}

export function linkStatement({ name, state, reason, since, played }: LinkFacts): Statement | undefined {
  switch (state) {
    case 'streaming':
      return reason === undefined ? undefined : { weight: 1, text: `${name}: ${sentence(reason)}` };
    case 'connecting':
      return { weight: 1, text: `${name}: connecting. ${sentence(reason)}`.trim() };
    case 'waiting':
      return { weight: 1, text: `${name}: connected, waiting for it to say what it is. ${sentence(reason)}`.trim() };
    case 'lost':
      return {
        weight: 2,
        text: [
          `${name}: no samples since ${since}.`,
          sentence(reason),
          played ? 'So it was in the recording.' : 'The station keeps trying to reconnect.',
        ]
          .filter((part) => part !== '')
          .join(' '),
      };
    case 'fault':
      return { weight: 2, text: `${name}: fault. ${sentence(reason ?? 'The station gave no reason')}` };
  }
}

export function connectionStatement(connection: ConnectionState, since: string): Statement | undefined {
  switch (connection.kind) {
    case 'open':
      return undefined;
    case 'connecting':
      return { weight: 1, text: 'Connecting to the station.' };
    case 'closed':
      return {
        weight: 2,
        text: `The station does not answer since ${since}. What is shown is older. Trying again by itself.`,
      };
    case 'refused':
      return {
        weight: 2,
        text: 'The station wants a token. Open the whole address that it printed when it started, with the part after #.',
      };
  }
}

export function recordingStatement(recording: RecordingEvent): Statement | undefined {
  if (recording.state === 'failed') {
    const reason = sentence(recording.reason ?? 'the station gave no reason');
    return { weight: 2, text: `Not recording: ${reason} The trace goes on, but is not kept.` };
  }
  if (recording.state === 'on' && recording.complete === false) {
    const reason = sentence(recording.reason ?? 'a part is missing, and marked as missing');
    return { weight: 1, text: `The recording is not complete: ${reason}` };
  }
  return undefined;
}

/** The line beside the record button. */
export function recordingText(recording: RecordingEvent): string {
  if (recording.state === 'failed') return 'Recording failed';
  if (recording.state === 'off') return 'Not recording';
  const size = recording.bytes === undefined ? '' : `, ${writeBytes(recording.bytes)}`;
  return `Recording to ${recording.file ?? 'a file'}${size}`;
}

export function zeroText(zero: ZeroEvent | undefined, when: string): string {
  switch (zero?.state) {
    case undefined:
    case 'none':
      return 'No zero taken';
    case 'taking':
      return 'Taking zero, keep still';
    case 'taken':
      return `Zero taken ${when}`;
    case 'refused':
      return `Zero refused: ${sentence(zero.reason ?? 'the station gave no reason')}`;
  }
}

export function zeroDetail(zero: ZeroEvent | undefined): string {
  const quantity: Quantity | undefined = zero?.zero;
  return quantity !== undefined && isKnown(quantity) ? writeQuantity(quantity) : words.notKnown;
}

export function sessionText(
  mode: 'live' | 'replay',
  startedClock: string | undefined,
  replay: ReplayEvent | undefined,
): string {
  if (mode === 'replay') return `Replay of ${replay?.file ?? 'a recording'}`;
  return startedClock === undefined ? 'Live' : `Live since ${startedClock}`;
}

export const reducedText = (reason: string | undefined): string =>
  `Fewer points: the trace comes as minimum and maximum. ${sentence(reason ?? 'this viewer or its network is slow')} ` +
  'Measured values are not affected.';

/** Shown in place of the trace where there is nothing to draw. */
export const emptyText = {
  noLink: {
    title: 'No cell is set up',
    text: 'Start the station with a link to a cell, or look at invented data first.',
    commands: ['heldmark serve --link serial:/dev/ttyUSB0', 'heldmark demo'],
  },
  noStation: { title: 'Connecting to the station', text: 'The trace appears as soon as it answers.', commands: [] },
  refused: {
    title: 'The station wants a token',
    text: 'Open the whole address that it printed when it started, with the part after #.',
    commands: [],
  },
  waiting: {
    title: 'Waiting for the cell',
    text: 'The trace appears with the first samples.',
    commands: [],
  },
} as const;

/** A reason as one sentence: capital letter, full stop. Empty stays empty. */
export function sentence(reason: string | undefined): string {
  const text = reason?.trim() ?? '';
  if (text === '') return '';
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}

/** Where the force on a plate acts; empty where the channel is no plate. */
export function centreText(level: ChannelLevel | undefined): string {
  if (level?.centreX && level.centreY) return `x ${writeSigned(level.centreX)}, y ${writeSigned(level.centreY)}`;
  return level?.centreNotMeasured === undefined ? '' : `not measured: ${level.centreNotMeasured}`;
}

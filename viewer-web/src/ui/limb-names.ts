/** What a channel or a link is called on the page. */

import { writeClock, writeElapsed } from '../format/time';
import type { Channel, Contraction } from '../live/events';
import type { StationState } from '../model/station-state';
import { words } from '../text/words';

export function channelName(channel: Pick<Channel, 'limb' | 'name'>): string {
  if (channel.limb === 'left') return words.left;
  if (channel.limb === 'right') return words.right;
  return channel.name;
}

export function contractionName(contraction: Contraction, channels: readonly Channel[]): string {
  const channel = channels.find((one) => one.channel === contraction.channel);
  return channelName({ limb: contraction.limb, name: channel?.name ?? '' });
}

/** The limbs on a link, and its address: "Left, serial:/dev/ttyUSB0". */
export function linkName(link: string, channels: readonly Channel[]): string {
  const names = channels.filter((channel) => channel.link === link).map(channelName);
  return [...new Set(names), link].join(', ');
}

/** Time of day where the start of the session is known, else the time within the session. */
export function whenText(state: StationState, atS: number): string {
  const startedAtMs = state.session?.startedAtMs;
  if (startedAtMs === undefined || state.session?.mode === 'replay') return writeElapsed(atS);
  return writeClock(startedAtMs + atS * 1000);
}

/** Requests that change something at the station. Each resolves to undefined, or to one sentence that says what failed. */

import { words } from '../text/words';
import type { SaidOfTrials } from './events';

export type Outcome = Promise<string | undefined>;

export const stationApi = {
  zero: (channels: readonly number[]): Outcome => send('POST', 'zero', channels.length > 0 ? { channels } : {}),
  startRecording: (): Outcome => send('POST', 'recording', { action: 'start' }),
  stopRecording: (): Outcome => send('POST', 'recording', { action: 'stop' }),
  mark: (text: string): Outcome => send('POST', 'marks', { text }),
  target: (forceN: number, tolerancePercent: number): Outcome => send('PUT', 'target', { forceN, tolerancePercent }),
  tap: (forget: boolean): Outcome => send('POST', 'tap', forget ? { forget } : {}),
  trials: (said: SaidOfTrials): Outcome => send('PUT', 'trials', said),
  noTarget: (): Outcome => send('PUT', 'target', {}),
  replay: (change: { paused?: boolean; speed?: number; restart?: true }): Outcome => send('POST', 'replay', change),
  session: (token: string): Outcome => send('POST', 'session', { token }),
};

/** True where the station refuses this viewer for want of a token. */
export async function isRefused(): Promise<boolean> {
  try {
    const answer = await fetch('api/v1/station');
    return answer.status === 401 || answer.status === 403;
  } catch {
    return false;
  }
}

async function send(method: string, resource: string, body: object): Outcome {
  try {
    const answer = await fetch(`api/v1/${resource}`, {
      method,
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    });
    return answer.ok ? undefined : await reasonOf(answer);
  } catch {
    return words.stationNotReached;
  }
}

export async function reasonOf(answer: Response): Promise<string> {
  try {
    const body = (await answer.json()) as { error?: unknown };
    if (typeof body.error === 'string') return body.error;
  } catch {
    // Not the station's own answer (a proxy's page, for example): the status is all there is to say.
  }
  return words.stationRefused(answer.status);
}

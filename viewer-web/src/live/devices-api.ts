/** Looks for the devices that a link could name. */

import { words } from '../text/words';
import { reasonOf } from './station-api';

export interface SerialPort {
  readonly link: string;
  readonly path: string;
  readonly description?: string;
  readonly manufacturer?: string;
  readonly usable: boolean;
}

export interface CellInRange {
  readonly link: string;
  readonly name?: string;
  readonly rssiDbm?: number;
  readonly paired: boolean;
  readonly connected: boolean;
}

export interface Devices {
  readonly ports: readonly SerialPort[];
  readonly cells: readonly CellInRange[];
  /** Why no Bluetooth cells could be looked for. */
  readonly cellsReason?: string;
}

/** Resolves to what was found, or to one sentence that says what failed. */
export async function lookForDevices(): Promise<Devices | string> {
  try {
    const answer = await fetch('api/v1/devices', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: '{}',
    });
    return answer.ok ? ((await answer.json()) as Devices) : await reasonOf(answer);
  } catch {
    return words.stationNotReached;
  }
}

/** What is said of devices in range. */

import { writeFixed } from '../format/quantity';
import type { CellInRange, SerialPort } from '../live/devices-api';

/** Signal strength in words and in dBm; the limits are those at which links begin to lose packets, by common practice. */
export function strengthText(rssiDbm: number | undefined): string {
  if (rssiDbm === undefined) return 'strength not known';
  const word = rssiDbm > -70 ? 'strong' : rssiDbm > -85 ? 'fair' : 'weak: bring it nearer';
  return `${writeFixed(rssiDbm, 0)}\u00a0dBm, ${word}`;
}

export function cellFacts(cell: CellInRange): string {
  const facts = [strengthText(cell.rssiDbm)];
  if (cell.connected) facts.push('connected');
  if (cell.paired) facts.push('paired');
  return facts.join(', ');
}

export function portFacts(port: SerialPort): string {
  const facts = [port.description, port.manufacturer].filter((text) => text !== undefined && text !== '');
  if (!port.usable) facts.push('no permission to use it');
  return facts.join(', ');
}

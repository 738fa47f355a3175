/**
 * Binary trace messages: blocks of a 24-byte little-endian header and float32 values, back to back
 * (docs/live-protocol.md). Values are handed on as views into the message; nothing is allocated per sample.
 */

export const HEADER_BYTES = 24;
export const KIND_SAMPLES = 1;
export const KIND_PAIRS = 2;

const VERSION = 1;
const TWO_TO_32 = 4_294_967_296;

/** Receives each block of a message, in order; `values` is valid as long as the message is. */
export type BlockSink = (
  kind: typeof KIND_SAMPLES | typeof KIND_PAIRS,
  channel: number,
  t0S: number,
  periodS: number,
  values: Float32Array,
) => void;

/**
 * Walks through the blocks of one message. Returns undefined where all of it was understood, else one reason; blocks
 * before the fault have been handed on. Typed arrays take the machine's byte order, which is little-endian wherever a
 * browser runs.
 */
export function parseBlocks(message: ArrayBuffer, sink: BlockSink): string | undefined {
  const view = new DataView(message);
  let offset = 0;
  while (offset < message.byteLength) {
    if (message.byteLength - offset < HEADER_BYTES) return `header cut off at byte ${offset}`;
    const version = view.getUint8(offset);
    if (version !== VERSION) return `unknown block version ${version} at byte ${offset}`;
    const kind = view.getUint8(offset + 1);
    if (kind !== KIND_SAMPLES && kind !== KIND_PAIRS) return `unknown block kind ${kind} at byte ${offset}`;
    const valueCount = view.getUint32(offset + 4, true) * kind;
    const next = offset + HEADER_BYTES + 4 * valueCount;
    if (next > message.byteLength) return `values cut off at byte ${offset}`;
    const t0S = (view.getInt32(offset + 12, true) * TWO_TO_32 + view.getUint32(offset + 8, true)) / 1e9;
    const periodS = view.getFloat64(offset + 16, true) / 1e9;
    if (!(periodS > 0)) return `period out of range at byte ${offset}`;
    const values = new Float32Array(message, offset + HEADER_BYTES, valueCount);
    if (valueCount > 0) sink(kind, view.getUint16(offset + 2, true), t0S, periodS, values);
    offset = next;
  }
  return undefined;
}

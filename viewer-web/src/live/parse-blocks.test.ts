import { describe, expect, it } from 'vitest';
import { parseBlocks } from './parse-blocks';

interface Block {
  version?: number;
  kind?: number;
  channel?: number;
  count?: number;
  t0Ns?: bigint;
  periodNs?: number;
  values: number[];
}

function message(...blocks: Block[]): ArrayBuffer {
  const bytes = new ArrayBuffer(blocks.reduce((sum, block) => sum + 24 + 4 * block.values.length, 0));
  const view = new DataView(bytes);
  let offset = 0;
  for (const block of blocks) {
    const kind = block.kind ?? 1;
    view.setUint8(offset, block.version ?? 1);
    view.setUint8(offset + 1, kind);
    view.setUint16(offset + 2, block.channel ?? 0, true);
    view.setUint32(offset + 4, block.count ?? block.values.length / kind, true);
    view.setBigInt64(offset + 8, block.t0Ns ?? 0n, true);
    view.setFloat64(offset + 16, block.periodNs ?? 1e6, true);
    for (let i = 0; i < block.values.length; i++) view.setFloat32(offset + 24 + 4 * i, block.values[i] ?? 0, true);
    offset += 24 + 4 * block.values.length;
  }
  return bytes;
}

function read(bytes: ArrayBuffer) {
  const blocks: { kind: number; channel: number; t0S: number; periodS: number; values: number[] }[] = [];
  const fault = parseBlocks(bytes, (kind, channel, t0S, periodS, values) => {
    blocks.push({ kind, channel, t0S, periodS, values: [...values] });
  });
  return { blocks, fault };
}

describe('parseBlocks', () => {
  it('should read bytes written by hand', () => {
    // version 1, kind 1, channel 0x0102, count 2, t0 1 500 000 000 ns, period 1e6 ns, values 1.0 and -2.5
    const hex = '01010201' + '02000000' + '002f685900000000' + '0000000080842e41' + '0000803f' + '000020c0';
    const bytes = Uint8Array.from(hex.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
    const { blocks, fault } = read(bytes.buffer);
    expect(fault).toBeUndefined();
    expect(blocks).toEqual([{ kind: 1, channel: 0x0102, t0S: 1.5, periodS: 0.001, values: [1, -2.5] }]);
  });

  it('should read several blocks of both kinds from one message', () => {
    const { blocks, fault } = read(
      message({ channel: 0, values: [1, 2, 3] }, { channel: 1, kind: 2, values: [-1, 1] }),
    );
    expect(fault).toBeUndefined();
    expect(blocks.map((block) => [block.kind, block.channel, block.values])).toEqual([
      [1, 0, [1, 2, 3]],
      [2, 1, [-1, 1]],
    ]);
  });

  it('should keep nanoseconds of long sessions and negative times', () => {
    const day = 86_400_000_000_000n;
    expect(read(message({ t0Ns: day + 123_456_789n, values: [0] })).blocks[0]?.t0S).toBeCloseTo(86_400.123456789, 9);
    expect(read(message({ t0Ns: -1_500_000_000n, values: [0] })).blocks[0]?.t0S).toBe(-1.5);
  });

  it('should hand on the blocks before a fault and name the fault', () => {
    const whole = message({ values: [1] }, { values: [2, 3] });
    expect(read(whole.slice(0, whole.byteLength - 1))).toEqual({
      blocks: [expect.objectContaining({ values: [1] })],
      fault: 'values cut off at byte 28',
    });
    expect(read(whole.slice(0, 30)).fault).toBe('header cut off at byte 28');
  });

  it('should refuse versions, kinds, counts and periods that it does not know', () => {
    expect(read(message({ version: 2, values: [1] })).fault).toMatch(/version 2/);
    expect(read(message({ kind: 3, count: 1, values: [1, 2, 3] })).fault).toMatch(/kind 3/);
    expect(read(message({ count: 0xffffffff, values: [1] })).fault).toMatch(/values cut off/);
    expect(read(message({ periodNs: 0, values: [1] })).fault).toMatch(/period/);
    expect(read(message({ periodNs: Number.NaN, values: [1] })).fault).toMatch(/period/);
  });

  it('should take an empty message and an empty block as nothing', () => {
    expect(read(new ArrayBuffer(0))).toEqual({ blocks: [], fault: undefined });
    expect(read(message({ values: [] }))).toEqual({ blocks: [], fault: undefined });
  });
});

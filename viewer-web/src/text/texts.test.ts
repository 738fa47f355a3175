import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Contraction, Effort } from '../live/events';
import { asymmetrySentence, lagSentence, limbPhrase, metricText, windowLabel } from './result-sentences';
import {
  centreText,
  connectionStatement,
  linkStatement,
  recordingStatement,
  recordingText,
  sentence,
  zeroText,
} from './state-sentences';

const NBSP = '\u00a0';

const CONTRACTION: Contraction = {
  type: 'contraction',
  id: 1,
  revision: 'final',
  channel: 0,
  limb: 'left',
  onsetS: 1,
  offsetS: 4.2,
  flags: [],
  metrics: [
    { id: 'force.peak', value: 512.34, standardUncertainty: 1.12, unit: 'N' },
    { id: 'duration', value: 3.2104, standardUncertainty: 0.012, unit: 's' },
    { id: 'rfd.0-100ms', notComputed: 'fixation not declared rigid' },
  ],
};

function effort(value: number, standardUncertainty: number, more: Partial<Effort> = {}): Effort {
  const asymmetry = { id: 'asymmetry.log', value, standardUncertainty, unit: '%' };
  return { type: 'effort', id: 1, leftContractionId: 1, rightContractionId: 2, asymmetry, ...more };
}

describe('sentences about results', () => {
  it('should give peak and duration with their uncertainties', () => {
    expect(limbPhrase('Left', CONTRACTION)).toBe(`Left 512.3(1.1)${NBSP}N for 3.210(0.012)${NBSP}s`);
    expect(windowLabel(CONTRACTION)).toBe(`512.3(1.1)${NBSP}N, 3.210(0.012)${NBSP}s`);
  });

  it('should never show a force without its uncertainty', () => {
    const bare = { ...CONTRACTION, metrics: [{ id: 'force.peak', value: 512.34, unit: 'N' }] };
    expect(limbPhrase('Left', bare)).toBe('Left: peak uncertainty not known');
    expect(windowLabel(bare)).toBe('');
    expect(metricText({ id: 'force.peak', value: 512.34, standardUncertainty: 0, unit: 'N' })).not.toMatch(/\d/);
  });

  it('should say why a metric was not computed', () => {
    expect(metricText(CONTRACTION.metrics[2])).toBe('not computed: fixation not declared rigid');
  });

  it('should name the higher limb by the sign, and none within twice the uncertainty', () => {
    expect(asymmetrySentence(effort(5.27, 0.31))).toBe(
      `Left against right: +5.27(0.31)${NBSP}%, the left limb higher in this effort.`,
    );
    expect(asymmetrySentence(effort(-5.27, 0.31))).toBe(
      `Left against right: \u22125.27(0.31)${NBSP}%, the right limb higher in this effort.`,
    );
    expect(asymmetrySentence(effort(0.6, 0.31))).toContain('no difference beyond the device uncertainty');
    expect(asymmetrySentence({ ...effort(1, 1), asymmetry: { id: 'asymmetry.log', notComputed: 'overload' } })).toBe(
      'Left against right: not computed, overload.',
    );
  });

  it('should say who began first only where the clocks can tell', () => {
    const lag = (onsetLagS: number) => lagSentence(effort(1, 1, { onsetLagS, onsetLagStandardUncertaintyS: 0.004 }));
    expect(lag(-0.021)).toBe(`Left began 0.0210(0.0040)${NBSP}s before right.`);
    expect(lag(0.021)).toBe(`Right began 0.0210(0.0040)${NBSP}s before left.`);
    expect(lag(0.007)).toBe('Both began together as far as the clocks can tell.');
    expect(lagSentence(effort(1, 1))).toBeUndefined();
  });
});

describe('sentences about states', () => {
  it('should say of a lost link what is missing and since when', () => {
    const statement = linkStatement({ name: 'Left', state: 'lost', reason: 'port is gone', since: '14:02:11' });
    expect(statement?.text).toBe(
      'Left: no samples since 14:02:11. Port is gone. The station keeps trying to reconnect.',
    );
    expect(statement?.weight).toBe(2);
    expect(linkStatement({ name: 'Left', state: 'lost', since: '1:26', played: true })?.text).toBe(
      'Left: no samples since 1:26. So it was in the recording.',
    );
    expect(linkStatement({ name: 'Left', state: 'lost', since: '14:02:11' })?.text).not.toContain('  ');
  });

  it('should say nothing of a link that streams well', () => {
    expect(linkStatement({ name: 'Left', state: 'streaming', since: '' })).toBeUndefined();
  });

  it('should hand on the reason of a fault, which says what to do', () => {
    const text = linkStatement({ name: 'Left', state: 'fault', reason: 'join the group dialout', since: '' })?.text;
    expect(text).toBe('Left: fault. Join the group dialout.');
  });

  it('should tell a closed connection from a refused one', () => {
    expect(connectionStatement({ kind: 'open' }, '')).toBeUndefined();
    expect(connectionStatement({ kind: 'closed', attempt: 1, sinceMs: 0 }, '14:02')?.text).toContain('since 14:02');
    expect(connectionStatement({ kind: 'refused' }, '')?.text).toContain('token');
  });

  it('should say that a failed recording keeps nothing', () => {
    expect(recordingStatement({ type: 'recording', state: 'failed', reason: 'disk full' })?.text).toBe(
      'Not recording: Disk full. The trace goes on, but is not kept.',
    );
    expect(
      recordingStatement({ type: 'recording', state: 'on', complete: false, reason: 'the disk was too slow' }),
    ).toEqual({ weight: 1, text: 'The recording is not complete: The disk was too slow.' });
    expect(recordingStatement({ type: 'recording', state: 'on', complete: true })).toBeUndefined();
    expect(recordingText({ type: 'recording', state: 'on', file: 'a.pcapng', bytes: 14_200 })).toBe(
      `Recording to a.pcapng, 14${NBSP}kB`,
    );
  });

  it('should say why a zero was refused', () => {
    expect(zeroText({ type: 'zero', channel: 0, state: 'refused', reason: 'the limb moved' }, '')).toBe(
      'Zero refused: The limb moved.',
    );
    expect(zeroText(undefined, '')).toBe('No zero taken');
  });

  it('should say where the force on a plate acts, or why it does not', () => {
    const centreX = { value: -40.12, standardUncertainty: 0.53, unit: 'mm' };
    const centreY = { value: 60.3, standardUncertainty: 0.61, unit: 'mm' };
    const level = { channel: 4, state: 'rest' } as const;
    expect(centreText({ ...level, centreX, centreY })).toBe(`x \u221240.12(0.53)${NBSP}mm, y +60.30(0.61)${NBSP}mm`);
    expect(centreText({ ...level, centreNotMeasured: 'too light' })).toBe('not measured: too light');
    expect(centreText(level)).toBe('');
  });

  it('should make sentences of reasons', () => {
    expect(sentence('port is gone')).toBe('Port is gone.');
    expect(sentence('Really?')).toBe('Really?');
    expect(sentence(undefined)).toBe('');
  });
});

describe('all texts', () => {
  it('should never give the verdicts that a station must not give', () => {
    const forbidden = /\b(recovered|recovery|ready to|cleared|at risk|safe to|readiness)\b/i;
    for (const file of sourceFiles(fileURLToPath(new URL('..', import.meta.url)))) {
      const text = readFileSync(file, 'utf8');
      expect(forbidden.exec(text)?.[0], file).toBeUndefined();
    }
  });
});

function sourceFiles(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return sourceFiles(path);
    return /\.tsx?$/.test(name) && !name.endsWith('.test.ts') ? [path] : [];
  });
}

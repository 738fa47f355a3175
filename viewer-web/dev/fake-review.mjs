// One contraction under review, as the station double tells it: samples of its synthetic limbs, boundaries by hand with
// undo and redo, marks where figures were taken from.

import { FakeLimb } from './fake-trace.mjs';

const RATE_HZ = 1000;
const BEFORE_S = 1.5;
const AFTER_S = 0.7;
const FIELDS = ['onsetS', 'releaseStartS', 'offsetS'];
const STEPS = ['50', '100', '150', '200', '250'];

/** Words of the metrics, as a station lists them. */
export const METRICS = {
  contraction: [
    metric('force.peak', 'Peak force', 'N'),
    metric('force.mean.best-1s', 'Best mean over 1 s', 'N'),
    metric('duration', 'Duration', 's'),
    metric('impulse.total', 'Impulse above the resting level', 'N\u00b7s'),
    metric('steadiness.cv', 'Steadiness', '%'),
    ...STEPS.map((ms) => metric(`rfd.0-${ms}ms`, `Rate of force development, 0 to ${ms} ms`, 'N/s')),
    metric('torque.peak', 'Peak torque', 'N\u00b7m'),
    metric('torque.peak.per-kg', 'Peak torque per kilogram', 'N\u00b7m/kg'),
    metric('force.peak.per-kg', 'Peak force per kilogram', 'N/kg'),
  ],
  effort: [metric('asymmetry.log', 'Asymmetry', '%')],
};

function metric(id, title, unit) {
  return { id, title, unit, definition: title, notComputed: '', uncertainty: '', source: '' };
}

export class FakeReviews {
  constructor(session) {
    this.session = session;
    this.steps = new Map();
  }

  /** Answers `contractions/ID[/samples|/boundaries]`. */
  onCall(resource, body, answer) {
    const [, id, part] = resource.split('/');
    const automatic = this.session.contractions.get(Number(id));
    if (automatic?.offsetS === undefined) {
      return answer(404, { error: 'There is no such finished contraction, or it is too long ago.' });
    }
    if (part === 'samples') return answer(200, this.samples(automatic));
    if (part === 'boundaries') {
      const refusal = this.change(automatic, body);
      if (refusal !== undefined) return answer(409, { error: refusal });
    }
    return answer(200, this.review(automatic));
  }

  historyOf(automatic) {
    const history = this.steps.get(automatic.id) ?? { list: [boundaries(automatic)], at: 0 };
    this.steps.set(automatic.id, history);
    return history;
  }

  change(automatic, body) {
    const history = this.historyOf(automatic);
    const now = history.list[history.at];
    if (body.change === 'undo') history.at--;
    else if (body.change === 'redo') history.at++;
    else {
      const to = body.change === 'automatic' ? history.list[0] : { ...now, ...body };
      if (to.onsetS >= to.releaseStartS) return 'The onset must come before the start of the release.';
      history.list = [...history.list.slice(0, history.at + 1), to];
      history.at++;
    }
    this.session.send(this.inForce(automatic));
    return undefined;
  }

  inForce(automatic) {
    const history = this.historyOf(automatic);
    const now = history.list[history.at];
    if (FIELDS.every((field) => now[field] === automatic[field])) return automatic;
    const durationS = now.offsetS - now.onsetS;
    const metrics = automatic.metrics.map((one) =>
      one.id === 'duration' ? { ...one, value: durationS, standardUncertainty: 0.0064 } : one,
    );
    return { ...automatic, ...now, revision: 'manual', onsetStandardUncertaintyS: 0.0041, metrics };
  }

  review(automatic) {
    const history = this.historyOf(automatic);
    const now = this.inForce(automatic);
    const effort = this.session.efforts.find((one) =>
      [one.leftContractionId, one.rightContractionId].includes(automatic.id),
    );
    return {
      id: automatic.id,
      channel: automatic.channel,
      unit: 'N',
      sampleRateHz: RATE_HZ,
      automatic,
      ...(now === automatic ? {} : { manual: now }),
      ...(effort ? { effort } : {}),
      undo: history.at > 0,
      redo: history.at < history.list.length - 1,
      firstS: automatic.onsetS - BEFORE_S,
      lastS: automatic.offsetS + AFTER_S,
      marks: marks(now),
    };
  }

  samples(automatic) {
    const limb = new FakeLimb({ ...this.session.limbs[automatic.channel], seed: automatic.id });
    const count = Math.round((automatic.offsetS + AFTER_S - automatic.onsetS + BEFORE_S) * RATE_HZ);
    const t0S = automatic.onsetS - BEFORE_S;
    const gapped = automatic.id % 4 === 3;
    const kept = Array.from({ length: count }, (_, i) => i).filter((i) => !gapped || i < 3000 || i > 3250);
    return {
      t0Ns: Math.round(t0S * 1e9),
      timeNs: kept.map((i) => (i * 1e9) / RATE_HZ),
      forceN: kept.map((i) => Math.fround(limb.forceN(t0S + i / RATE_HZ))),
      gapBefore: gapped ? [3000] : [],
    };
  }
}

function boundaries(contraction) {
  return Object.fromEntries(FIELDS.map((field) => [field, contraction[field]]));
}

function marks(contraction) {
  const peakN = contraction.metrics[0].value;
  const middleS = (contraction.onsetS + contraction.offsetS) / 2 + 0.6;
  return [
    { id: 'force.peak', kind: 'level', fromS: middleS, toS: middleS + 0.1, fromN: peakN, toN: peakN },
    { id: 'force.mean.best-1s', kind: 'level', fromS: middleS - 0.5, toS: middleS + 0.5, fromN: peakN, toN: peakN },
    ...STEPS.map((ms) => {
      const afterS = Number(ms) / 1000;
      const slope = { fromS: contraction.onsetS, toS: contraction.onsetS + afterS, fromN: 0 };
      return { id: `rfd.0-${ms}ms`, kind: 'slope', ...slope, toN: peakN * (1 - (1 - afterS / 0.9) ** 3) };
    }),
  ];
}

// Synthetic forces for the station double: two limbs that hold for some seconds, rest, and hold again.
// Deterministic from the seed; only its plausibility to the eye matters here (the simulators hold the force model).

/** A small seeded generator of numbers in [0, 1) (the public-domain mulberry32 mixing steps, from memory). */
export function randomFrom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export const CYCLE_S = 9;
export const HOLD = { onsetS: 2, riseS: 0.9, holdS: 3, fallS: 0.35 };

export class FakeLimb {
  constructor({ peakN, lagS = 0, seed, noiseN = 0.4 }) {
    this.peakN = peakN;
    this.lagS = lagS;
    this.noiseN = noiseN;
    this.random = randomFrom(seed);
    this.walk = 0;
  }

  onsetS(cycle) {
    return cycle * CYCLE_S + HOLD.onsetS + this.lagS;
  }

  offsetS(cycle) {
    return this.onsetS(cycle) + HOLD.riseS + HOLD.holdS + HOLD.fallS * 0.95;
  }

  releaseS(cycle) {
    return this.onsetS(cycle) + HOLD.riseS + HOLD.holdS;
  }

  /** Peak of one cycle: efforts differ a little from one another. */
  cyclePeakN(cycle) {
    return this.peakN * (1 + 0.04 * Math.sin(cycle * 2.3 + this.peakN));
  }

  forceN(timeS) {
    const cycle = Math.floor(timeS / CYCLE_S);
    const shape = this.shape(timeS - this.onsetS(cycle));
    this.walk = this.walk * 0.995 + (this.random() - 0.5) * 0.06;
    const tremor = 0.006 * Math.sin(2 * Math.PI * 9.3 * timeS + this.lagS * 40) + 0.01 * this.walk;
    const noise = (this.random() + this.random() + this.random() - 1.5) * 2 * this.noiseN;
    return this.cyclePeakN(cycle) * shape * (1 + tremor) + noise;
  }

  shape(sinceOnsetS) {
    const { riseS, holdS, fallS } = HOLD;
    if (sinceOnsetS < 0) return 0;
    if (sinceOnsetS < riseS) return 0.96 * (1 - (1 - sinceOnsetS / riseS) ** 3);
    const heldS = sinceOnsetS - riseS;
    if (heldS < holdS) return 0.96 + 0.035 * Math.sin((Math.PI * heldS) / holdS) - 0.01 * (heldS / holdS);
    const fallenS = heldS - holdS;
    return fallenS < fallS ? 0.95 * (1 - fallenS / fallS) ** 2 : 0;
  }
}

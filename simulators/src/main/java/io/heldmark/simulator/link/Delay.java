package io.heldmark.simulator.link;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;

/** Least latency and a further, exponential delay that depends on an index only: asking twice gives the same. */
final class Delay {
    private final long latencyNs;
    private final double jitterNs;
    private final SeededRandom random;

    Delay(CellSpec.LinkTiming spec, SeededRandom random) {
        latencyNs = Math.round(spec.latencyS() * 1e9);
        jitterNs = spec.jitterS() * 1e9;
        this.random = random;
    }

    long latencyNs() {
        return latencyNs;
    }

    /** Returns the further delay of the delivery with this index, in nanoseconds. */
    long jitterNs(long index) {
        return jitterNs == 0 ? 0 : (long) (-jitterNs * StrictMath.log(1 - random.at(index)));
    }
}

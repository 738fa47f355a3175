package io.heldmark.simulator.device;

import io.heldmark.simulator.force.LimbForce;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.math.Sine;
import io.heldmark.simulator.scenario.CellSpec;

/**
 * Turns the force on one channel into counts.
 *
 * <p><b>Formula.</b> {@code counts = round(offset + countsPerNewton (share force + hum + flicker + noise))}, force and hum
 * averaged over the averaging time before the moment of sampling, limited to the range of the converter. Noise is drawn for
 * each value whether or not the converter is limited, so that limits move no other number.
 */
final class Converter {
    private static final double AVERAGING_STEP_S = 0.001;
    private static final int MOST_STEPS = 200;

    private final LimbForce limb;
    private final double share;
    private final CellSpec.Adc adc;
    private final double countsPerNewton;
    private final double noiseSdN;
    private final long lowest;
    private final long highest;
    private final double humPhase;
    private final Flicker flicker;
    private final SeededRandom noise;
    private final int steps;
    private boolean overloaded;

    Converter(CellSpec cell, int channel, LimbForce limb, SeededRandom random) {
        this.limb = limb;
        share = cell.channels().get(channel).share();
        adc = cell.adc();
        countsPerNewton = cell.countsPerNewton();
        double fromCountsN = adc.noiseSdCounts() / countsPerNewton;
        noiseSdN = Math.sqrt(adc.noiseSdN() * adc.noiseSdN() + fromCountsN * fromCountsN);
        highest = (1L << (adc.bits() - 1)) - 1;
        lowest = -highest - 1;
        humPhase = random.split("hum").nextDouble();
        flicker = new Flicker(adc.flickerSdN(), cell.sampleRateHz(), random.split("flicker"));
        noise = random.split("noise");
        steps = adc.averageS() == 0
                ? 1
                : (int) Math.min(MOST_STEPS, Math.max(2, Math.round(adc.averageS() / AVERAGING_STEP_S)));
    }

    /**
     * Converts at a moment.
     *
     * @param timeS true time in seconds.
     * @return counts; {@link #overloaded()} tells whether they were limited.
     */
    int convert(double timeS) {
        double valueN = meanN(timeS) + flicker.next() + noiseSdN * noise.nextGaussian();
        long counts = Math.round(adc.offsetCounts() + countsPerNewton * valueN);
        long limited = Math.min(highest, Math.max(lowest, counts));
        overloaded = limited == highest || limited == lowest;
        return (int) limited;
    }

    /** Returns whether the last value reached the end of the range. */
    boolean overloaded() {
        return overloaded;
    }

    private double meanN(double timeS) {
        if (steps == 1) {
            return momentN(timeS);
        }
        double stepS = adc.averageS() / steps;
        double sum = 0;
        for (int i = 0; i < steps; i++) {
            sum += momentN(timeS - adc.averageS() + (i + 0.5) * stepS);
        }
        return sum / steps;
    }

    private double momentN(double timeS) {
        double forceN = share * limb.forceN(timeS);
        if (adc.humN() == 0) {
            return forceN;
        }
        double cycles = adc.humHz() * timeS + humPhase;
        return forceN + adc.humN() * (Sine.ofCycles(cycles) + 0.2 * Sine.ofCycles(3 * cycles));
    }
}

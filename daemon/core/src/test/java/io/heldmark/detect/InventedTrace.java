package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.SampleBatch;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Consumer;
import java.util.function.DoubleUnaryOperator;

/** An invented trace: efforts, whatever else moves the force, noise, hum, drift, gaps; sampled into batches. */
final class InventedTrace {
    final double rateHz;
    final double lengthS;
    final List<InventedEffort> efforts = new ArrayList<>();
    final List<DoubleUnaryOperator> others = new ArrayList<>();
    final List<double[]> gapsS = new ArrayList<>();
    double noiseN;
    double humN;
    double humHz = 50;
    double driftNPerS;
    double offsetN;
    /** Size of the steps in which forces are written; 0 for none. */
    double stepN;

    long seed;

    InventedTrace(double rateHz, double lengthS, long seed) {
        this.rateHz = rateHz;
        this.lengthS = lengthS;
        this.seed = seed;
    }

    InventedTrace noise(double sdN) {
        noiseN = sdN;
        return this;
    }

    InventedTrace hum(double amplitudeN) {
        humN = amplitudeN;
        return this;
    }

    InventedTrace drift(double newtonPerS) {
        driftNPerS = newtonPerS;
        return this;
    }

    /** Writes forces in steps of so many newtons. */
    InventedTrace coarse(double newton) {
        stepN = newton;
        return this;
    }

    InventedTrace with(InventedEffort effort) {
        efforts.add(effort);
        return this;
    }

    InventedTrace gap(double fromS, double toS) {
        gapsS.add(new double[] {fromS, toS});
        return this;
    }

    /** A weight that arrives within a time, rings a little and stays until it is lifted. */
    InventedTrace laidDown(double atS, double forceN, double arriveS, double liftedS) {
        others.add(t -> {
            if (t < atS || t >= liftedS + arriveS) {
                return 0;
            }
            if (t > liftedS) {
                return forceN * (1 + StrictMath.cos(Math.PI * (t - liftedS) / arriveS)) / 2;
            }
            double u = t - atS;
            double ring = u < arriveS
                    ? 0
                    : 0.2 * StrictMath.exp(-(u - arriveS) / 0.05) * StrictMath.sin(2 * Math.PI * 14 * (u - arriveS));
            return forceN * ((u < arriveS ? (1 - StrictMath.cos(Math.PI * u / arriveS)) / 2 : 1) + ring);
        });
        return this;
    }

    /** A knock: one hump. */
    InventedTrace bump(double atS, double forceN, double lengthS) {
        others.add(t -> t < atS || t > atS + lengthS ? 0 : forceN * StrictMath.sin(Math.PI * (t - atS) / lengthS));
        return this;
    }

    /** A twitch (t/T) exp(1 - t/T). */
    InventedTrace twitch(double atS, double forceN, double peakS) {
        others.add(t -> t < atS ? 0 : forceN * (t - atS) / peakS * StrictMath.exp(1 - (t - atS) / peakS));
        return this;
    }

    double trueN(double t) {
        double force = offsetN + driftNPerS * t;
        for (InventedEffort e : efforts) {
            if (t > e.onsetS() - 4 && t < e.offsetS() + 3) {
                force += e.forceN(t);
            }
        }
        for (DoubleUnaryOperator other : others) {
            force += other.applyAsDouble(t);
        }
        return force;
    }

    ChannelInfo channel() {
        double resolutionN = stepN > 0 ? stepN : 0.01;
        return new ChannelInfo(
                0, "test", "", 0, "test", Limb.LEFT, rateHz, 0, 2000, "N", "factory", 0.001, resolutionN);
    }

    /** Samples the trace into batches of about 10 ms. */
    void feed(Consumer<SampleBatch> consumer) {
        Random random = new Random(seed);
        double phase = random.nextDouble() * 2 * Math.PI;
        double shift = random.nextDouble() / rateHz;
        int size = (int) Math.max(1, Math.round(rateHz * 0.01));
        SampleBatch batch = new SampleBatch(size);
        batch.periodNs = 1e9 / rateHz;
        boolean gap = false;
        long samples = Math.round(lengthS * rateHz);
        for (long i = 0; i < samples; i++) {
            double t = shift + i / rateHz;
            double noise = noiseN * random.nextGaussian();
            if (lost(t)) {
                send(batch, consumer);
                gap = true;
                continue;
            }
            if (batch.count == 0) {
                batch.flags = gap ? SampleBatch.GAP_BEFORE : 0;
                batch.missingBefore = gap ? 1 : 0;
                gap = false;
            }
            batch.timeNs[batch.count] = Math.round(t * 1e9);
            double forceN = trueN(t) + noise + humN * StrictMath.sin(2 * Math.PI * humHz * t + phase);
            batch.forceN[batch.count++] = stepN > 0 ? stepN * Math.rint(forceN / stepN) : forceN;
            if (batch.count == size) {
                send(batch, consumer);
            }
        }
        send(batch, consumer);
    }

    private static void send(SampleBatch batch, Consumer<SampleBatch> consumer) {
        if (batch.count > 0) {
            consumer.accept(batch);
            batch.count = 0;
        }
    }

    private boolean lost(double t) {
        for (double[] g : gapsS) {
            if (t >= g[0] && t < g[1]) {
                return true;
            }
        }
        return false;
    }
}

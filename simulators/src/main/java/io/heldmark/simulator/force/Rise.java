package io.heldmark.simulator.force;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.EffortSpec;

/**
 * The course of a rise from 0 to 1, 0 up to the onset. Several shapes, because each method of finding an onset favours the
 * shape it was made for.
 *
 * <p>Magnitudes: explosive efforts reach a greatest slope of several times their top in a second, slow ones less than twice
 * (common practice, no published source).
 */
sealed interface Rise {
    /** Returns the value at a time since the onset, in seconds. */
    double value(double timeS);

    /** Returns the greatest slope, in 1/s. */
    double peakSlopePerS();

    /** Returns when the rise is over for the purpose of holding: 95 % of the top, or the top where it has an end. */
    default double riseS() {
        double low = 0;
        double high = 1;
        while (value(high) < 0.95) {
            high *= 2;
        }
        for (int i = 0; i < 60; i++) {
            double middle = (low + high) / 2;
            if (value(middle) < 0.95) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }

    /** Draws a rise; all its numbers are drawn whatever the shape, so that changing the shape moves no other number. */
    static Rise draw(EffortSpec.Rise spec, SeededRandom random) {
        double slopePerS = spec.peakRfdPerS().draw(random);
        double ratio = spec.startRatio().draw(random);
        double exponent = spec.exponent().draw(random);
        double durationS = spec.durationS().draw(random);
        double angleDeg = spec.breakAngleDeg().draw(random);
        return switch (spec.shape()) {
            case EXPONENTIAL -> Exponential.of(slopePerS, ratio);
            case SIGMOID -> Sigmoid.of(slopePerS);
            case POWER -> Power.of(slopePerS, exponent);
            case RAMP -> new Ramp(durationS, 0.15);
            case LEAN -> new Lean(durationS, StrictMath.toRadians(angleDeg));
        };
    }

    /**
     * Activation and then muscle with tendon, each a first-order stage. With fast over slow = q the greatest slope is
     * {@code q^(q/(1-q)) / slow}, at the time {@code ln(1/q) q slow / (1-q)}.
     *
     * <p>Source: first-order activation dynamics in series with the muscle as in Zajac 1989, Crit Rev Biomed Eng 17, 359-411
     * (from memory).
     */
    record Exponential(double slowS, double fastS) implements Rise {
        static Exponential of(double slopePerS, double ratio) {
            double factor = ratio > 0 ? StrictMath.pow(ratio, ratio / (1 - ratio)) : 1;
            double slowS = factor / slopePerS;
            return new Exponential(slowS, ratio * slowS);
        }

        @Override
        public double value(double timeS) {
            return Curves.twoStages(timeS, slowS, fastS);
        }

        @Override
        public double peakSlopePerS() {
            double ratio = fastS / slowS;
            return ratio > 0 ? StrictMath.pow(ratio, ratio / (1 - ratio)) / slowS : 1 / slowS;
        }
    }

    /**
     * Logistic curve, cut where it is 1.8 % and stretched to start at 0: {@code (L(kt - 4) - L(-4)) / (1 - L(-4))} with
     * {@code L(x) = 1 / (1 + e^-x)}. It leaves the rest with a slope of 7 % of the greatest. Common practice as a description
     * of a force's rise, no published source claimed.
     */
    record Sigmoid(double ratePerS) implements Rise {
        private static final double START = 4;
        private static final double FLOOR = 1 / (1 + StrictMath.exp(START));

        static Sigmoid of(double slopePerS) {
            return new Sigmoid(4 * (1 - FLOOR) * slopePerS);
        }

        @Override
        public double value(double timeS) {
            if (timeS <= 0) {
                return 0;
            }
            return (1 / (1 + StrictMath.exp(START - ratePerS * timeS)) - FLOOR) / (1 - FLOOR);
        }

        @Override
        public double peakSlopePerS() {
            return ratePerS / 4 / (1 - FLOOR);
        }
    }

    /**
     * Power of time at the onset, saturating: {@code 1 - e^-(t/T)^p}. For p &gt; 1 the greatest slope is {@code p/T
     * x^(p-1) e^-(x^p)} at {@code x = t/T = ((p-1)/p)^(1/p)}.
     */
    record Power(double scaleS, double exponent) implements Rise {
        static Power of(double slopePerS, double exponent) {
            return new Power(new Power(1, exponent).peakSlopePerS() / slopePerS, exponent);
        }

        @Override
        public double value(double timeS) {
            return timeS <= 0 ? 0 : 1 - StrictMath.exp(-StrictMath.pow(timeS / scaleS, exponent));
        }

        @Override
        public double peakSlopePerS() {
            double power = (exponent - 1) / exponent;
            double x = StrictMath.pow(power, 1 / exponent);
            return exponent / scaleS * StrictMath.pow(x, exponent - 1) * StrictMath.exp(-power);
        }
    }

    /** Straight line whose first and last {@code round} of the length are parabolas. */
    record Ramp(double durationS, double round) implements Rise {
        @Override
        public double value(double timeS) {
            double u = timeS / durationS;
            if (u <= 0) {
                return 0;
            }
            if (u >= 1) {
                return 1;
            }
            if (u < round) {
                return u * u / (2 * round * (1 - round));
            }
            if (u > 1 - round) {
                return 1 - (1 - u) * (1 - u) / (2 * round * (1 - round));
            }
            return (u - round / 2) / (1 - round);
        }

        @Override
        public double peakSlopePerS() {
            return 1 / durationS / (1 - round);
        }

        @Override
        public double riseS() {
            return durationS;
        }
    }

    /**
     * A body that leans forward from the knees: the moment of its weight goes with the sine of the angle, and the angle with
     * time^1.5: {@code sin(A u^1.5) / sin(A)}, u = t / T, A the angle at the break point. It ends there.
     */
    record Lean(double durationS, double breakRad) implements Rise {
        @Override
        public double value(double timeS) {
            double u = Math.min(timeS / durationS, 1);
            return u <= 0 ? 0 : StrictMath.sin(breakRad * u * Math.sqrt(u)) / StrictMath.sin(breakRad);
        }

        /** Scanned over 4096 steps; the slope is smooth, the error below 1e-6 of it. */
        @Override
        public double peakSlopePerS() {
            double greatest = 0;
            for (int i = 0; i <= 4096; i++) {
                double u = i / 4096.0;
                double root = Math.sqrt(u);
                greatest = Math.max(greatest, 1.5 * breakRad * root * StrictMath.cos(breakRad * u * root));
            }
            return greatest / durationS / StrictMath.sin(breakRad);
        }

        @Override
        public double riseS() {
            return durationS;
        }
    }
}

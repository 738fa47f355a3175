package io.heldmark.detect;

import java.util.EnumMap;
import java.util.Map;

/**
 * One invented effort whose force is known exactly: the detector's truth. Written apart from the simulators' force model, so
 * that one mistake does not pass both.
 *
 * @param onsetS true onset.
 * @param heightN force of the plateau above rest.
 * @param rise shape of the rise.
 * @param riseS its time constant or duration, by shape.
 * @param holdS from the end of the rise to the start of the release.
 * @param releaseS exponential: time constant; see {@link #cosineRelease}.
 * @param cosineRelease half a cosine of length releaseS instead of an exponential fall.
 * @param fatiguePerS share of the force lost per second of holding.
 * @param tremorShare amplitude of a 9.3-Hz tremor and half of it at 1.1 Hz, as a share of the force.
 * @param preTensionN tension held for preTensionS before the onset, reached in 0.25 s.
 * @param preTensionS its length.
 * @param dipN depth of a countermovement that ends at the onset.
 * @param dipS its length.
 * @param valleyShare force in the middle of the hold as a share of the plateau (a double effort); 1 for none.
 */
record InventedEffort(
        double onsetS,
        double heightN,
        Rise rise,
        double riseS,
        double holdS,
        double releaseS,
        boolean cosineRelease,
        double fatiguePerS,
        double tremorShare,
        double preTensionN,
        double preTensionS,
        double dipN,
        double dipS,
        double valleyShare) {
    enum Rise {
        /** 1 - exp(-t/T). */
        EXPONENTIAL,
        /** Two stages one after the other: 1 - (1 + t/T) exp(-t/T). */
        TWO_STAGES,
        /** Half a cosine of length T. */
        SIGMOID,
        /** Logistic curve, cut where it is 1.8 % and stretched to begin at 0; 4 T to its middle. */
        LOGISTIC,
        /** (t/T)^1.5 up to T. */
        POWER,
        /** Saturating power 1 - exp(-(t/T)^1.25). */
        SATURATING,
        /** Saturating power 1 - exp(-(t/T)^2.25). */
        SATURATING_LATE,
        /** Movement of least jerk, 10 u^3 - 15 u^4 + 6 u^5, u = t/T (Flash and Hogan 1985, J Neurosci 5:1688-1703, from memory). */
        LEAST_JERK,
        /** t/T up to T. */
        RAMP
    }

    static InventedEffort explosive(double onsetS, double heightN, Rise rise, double riseS, double holdS) {
        return new InventedEffort(onsetS, heightN, rise, riseS, holdS, 0.08, false, 0, 0.006, 0, 0, 0, 0, 1);
    }

    /** The same by its greatest slope, in heights per second. */
    static InventedEffort steep(double onsetS, double heightN, Rise rise, double peaksPerS, double holdS) {
        return explosive(onsetS, heightN, rise, GREATEST_SLOPES.get(rise) / peaksPerS, holdS);
    }

    /** Greatest slope of each shape for T = 1. */
    private static final Map<Rise, Double> GREATEST_SLOPES = new EnumMap<>(Rise.class);

    static {
        for (Rise rise : Rise.values()) {
            GREATEST_SLOPES.put(rise, greatestSlope(rise));
        }
    }

    private static double greatestSlope(Rise rise) {
        double greatest = 0;
        for (int i = 1; i <= 20000; i++) {
            greatest = Math.max(greatest, (rising(rise, i * 1e-3) - rising(rise, (i - 1) * 1e-3)) / 1e-3);
        }
        return greatest;
    }

    static InventedEffort ramp(double onsetS, double heightN, double riseS, double holdS) {
        return new InventedEffort(onsetS, heightN, Rise.RAMP, riseS, holdS, 0.4, true, 0, 0.01, 0, 0, 0, 0, 1);
    }

    InventedEffort withPreTension(double forceN, double lengthS) {
        return new InventedEffort(
                onsetS,
                heightN,
                rise,
                riseS,
                holdS,
                releaseS,
                cosineRelease,
                fatiguePerS,
                tremorShare,
                forceN,
                lengthS,
                dipN,
                dipS,
                valleyShare);
    }

    InventedEffort withDip(double depthN, double lengthS) {
        return new InventedEffort(
                onsetS,
                heightN,
                rise,
                riseS,
                holdS,
                releaseS,
                cosineRelease,
                fatiguePerS,
                tremorShare,
                preTensionN,
                preTensionS,
                depthN,
                lengthS,
                valleyShare);
    }

    InventedEffort withValley(double share) {
        return new InventedEffort(
                onsetS,
                heightN,
                rise,
                riseS,
                holdS,
                releaseS,
                cosineRelease,
                fatiguePerS,
                tremorShare,
                preTensionN,
                preTensionS,
                dipN,
                dipS,
                share);
    }

    InventedEffort withFatigue(double perS) {
        return new InventedEffort(
                onsetS,
                heightN,
                rise,
                riseS,
                holdS,
                releaseS,
                cosineRelease,
                perS,
                tremorShare,
                preTensionN,
                preTensionS,
                dipN,
                dipS,
                valleyShare);
    }

    InventedEffort withRelease(double lengthS, boolean cosine) {
        return new InventedEffort(
                onsetS,
                heightN,
                rise,
                riseS,
                holdS,
                lengthS,
                cosine,
                fatiguePerS,
                tremorShare,
                preTensionN,
                preTensionS,
                dipN,
                dipS,
                valleyShare);
    }

    /** Length of the rise proper, after which the hold is counted. */
    private double fullS() {
        return switch (rise) {
            case EXPONENTIAL, SATURATING -> 4 * riseS;
            case TWO_STAGES -> 6 * riseS;
            case LOGISTIC -> 8 * riseS;
            case SATURATING_LATE -> 2 * riseS;
            default -> riseS;
        };
    }

    double releaseStartS() {
        return onsetS + fullS() + holdS;
    }

    /** Time at which the force above the level right before the effort is back at 5 % of what it was at the release. */
    double offsetS() {
        double heldN = forceN(releaseStartS());
        double share = (preTensionN + 0.05 * (heldN - preTensionN)) / heldN;
        // Half a cosine: (1 + cos(pi u)) / 2 = share.
        double length =
                cosineRelease ? releaseS * StrictMath.acos(2 * share - 1) / Math.PI : -releaseS * StrictMath.log(share);
        return releaseStartS() + length;
    }

    /** Mean slope over the first 50 ms after the onset. */
    double slope50NPerS() {
        return (forceN(onsetS + 0.05) - forceN(onsetS)) / 0.05;
    }

    /** Time at which the force above rest first reaches a threshold; searched in steps of 0.1 ms. */
    double crossingS(double thresholdN) {
        double t = onsetS;
        while (forceN(t) < thresholdN && t < releaseStartS()) {
            t += 1e-4;
        }
        return t;
    }

    /** Force above rest at a time. */
    double forceN(double timeS) {
        double t = timeS - onsetS;
        if (t < 0) {
            return before(t);
        }
        double release = timeS - releaseStartS();
        double held = heldN(Math.min(t, fullS() + holdS));
        if (release <= 0) {
            return held;
        }
        if (cosineRelease) {
            return release >= releaseS ? 0 : held * (1 + StrictMath.cos(Math.PI * release / releaseS)) / 2;
        }
        return held * StrictMath.exp(-release / releaseS);
    }

    private double before(double t) {
        if (preTensionS > 0 && t > -preTensionS) {
            double u = Math.min(1, (t + preTensionS) / 0.25);
            return preTensionN * (1 - StrictMath.cos(Math.PI * u)) / 2;
        }
        if (dipS > 0 && t > -dipS) {
            double u = (t + dipS) / dipS;
            return -dipN * (1 - StrictMath.cos(2 * Math.PI * u)) / 2;
        }
        return 0;
    }

    private double heldN(double t) {
        double tremor = 1
                + tremorShare * StrictMath.sin(2 * Math.PI * 9.3 * t)
                + tremorShare / 2 * StrictMath.sin(2 * Math.PI * 1.1 * t);
        double tired = 1 - fatiguePerS * Math.max(0, t - fullS());
        double valley = 1;
        if (valleyShare < 1 && holdS > 0) {
            double u = (t - fullS()) / holdS;
            if (u > 0.3 && u < 0.7) {
                valley = 1 - (1 - valleyShare) * (1 - StrictMath.cos(2 * Math.PI * (u - 0.3) / 0.4)) / 2;
            }
        }
        return (preTensionN + (heightN - preTensionN) * rising(t)) * tremor * tired * valley;
    }

    private double rising(double t) {
        return rising(rise, t / riseS);
    }

    private static double rising(Rise rise, double u) {
        return switch (rise) {
            case EXPONENTIAL -> 1 - StrictMath.exp(-u);
            case TWO_STAGES -> 1 - (1 + u) * StrictMath.exp(-u);
            case SIGMOID -> u >= 1 ? 1 : (1 - StrictMath.cos(Math.PI * u)) / 2;
            case LOGISTIC -> (logistic(u - 4) - logistic(-4)) / (1 - logistic(-4));
            case POWER -> u >= 1 ? 1 : u * Math.sqrt(u);
            case SATURATING -> 1 - StrictMath.exp(-StrictMath.pow(u, 1.25));
            case SATURATING_LATE -> 1 - StrictMath.exp(-StrictMath.pow(u, 2.25));
            case LEAST_JERK -> u >= 1 ? 1 : u * u * u * (10 - 15 * u + 6 * u * u);
            case RAMP -> Math.min(1, u);
        };
    }

    private static double logistic(double x) {
        return 1 / (1 + StrictMath.exp(-x));
    }
}

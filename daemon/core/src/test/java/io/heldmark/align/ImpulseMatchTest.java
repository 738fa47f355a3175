package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.align.ImpulseTrack.Knock;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Knocks of known times on two invented cells. */
class ImpulseMatchTest {
    private static final double K = 2;

    /** One invented knock. */
    private record Scene(double rateA, double rateB, double lengthS, double peakN, double noiseN, double offsetS) {}

    /** A contact of half the length and a smaller swing back: smooth, as what a cell's mount lets through. */
    private static double shape(double u) {
        return u <= 0 || u >= 1 ? 0 : hump(2 * u) - 0.25 * hump(2 * u - 1);
    }

    private static double hump(double u) {
        return u <= 0 || u >= 1 ? 0 : 64 * Math.pow(u * (1 - u), 3);
    }

    private static ImpulseTrack track(
            double rateHz, double phaseS, double atS, Scene s, double share, SplittableRandom random) {
        ImpulseTrack track = new ImpulseTrack(rateHz, 3);
        for (int i = 0; i < 2.4 * rateHz; i++) {
            double timeS = phaseS + i / rateHz;
            double forceN = 5 + share * s.peakN * shape((timeS - atS) / s.lengthS) + s.noiseN * random.nextGaussian();
            track.add(timeS * 1e9, forceN, false, false);
        }
        return track;
    }

    private static ImpulseMatch match(Scene s, SplittableRandom random) {
        double atS = 1.2 + 0.01 * random.nextDouble();
        ImpulseTrack a = track(s.rateA, random.nextDouble() / s.rateA, atS + s.offsetS, s, 1, random);
        ImpulseTrack b = track(s.rateB, random.nextDouble() / s.rateB, atS, s, 0.6, random);
        List<Knock> ka = a.knocks();
        List<Knock> kb = b.knocks();
        assertEquals(1, ka.size());
        assertEquals(1, kb.size());
        ImpulseMatch match = ImpulseMatch.of(a, ka.get(0), b, kb.get(0), 1000);
        assertNotNull(match);
        return match;
    }

    private static void check(double rateA, double rateB, double least, double most, double typicalNs) {
        SplittableRandom random = new SplittableRandom(20261126);
        int covered = 0;
        int n = 600;
        double squares = 0;
        double stated = 0;
        for (int i = 0; i < n; i++) {
            Scene scene = new Scene(
                    rateA,
                    rateB,
                    0.02 + 0.06 * random.nextDouble(),
                    60 + 140 * random.nextDouble(),
                    0.1 + 0.9 * random.nextDouble(),
                    0.02 * (random.nextDouble() - 0.5));
            ImpulseMatch match = match(scene, random);
            double errorNs = match.offsetNs() - 1e9 * scene.offsetS;
            covered += Math.abs(errorNs) <= K * match.standardUncertaintyNs() ? 1 : 0;
            squares += errorNs * errorNs / n;
            stated += match.standardUncertaintyNs() * match.standardUncertaintyNs() / n;
        }
        double share = 100.0 * covered / n;
        String text = rateA + "/" + rateB + " Hz: " + share + " %, rms error " + Math.sqrt(squares) + " ns, stated "
                + Math.sqrt(stated);
        assertTrue(share >= least && share <= most, text);
        assertTrue(Math.sqrt(squares) < typicalNs, text);
    }

    @Test
    void shouldCoverTheTrueOffsetAtEqualRates() {
        check(1000, 1000, 93, 99, 50e3);
    }

    @Test
    void shouldCoverTheTrueOffsetAtUnlikeRates() {
        check(1000, 500, 93, 99, 100e3);
    }

    @Test
    void shouldCoverTheTrueOffsetAtALowRate() {
        check(320, 320, 91, 99, 1e6);
    }
}

package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class DepartureTest {
    private static final double PERIOD_S = 1e-3;
    private static final int SAMPLES = 400;
    private static final double TRUE_S = 0.3004;

    /** Rest at 7 N, then a course of the time since the departure; noise of 0.5 N. */
    private static Segment trace(DoubleUnaryOperator course, double scale, long shiftNs, double noiseN) {
        Random random = new Random(5);
        TraceBuffer buffer = new TraceBuffer(SAMPLES);
        for (int i = 0; i < SAMPLES; i++) {
            double t = i * PERIOD_S - TRUE_S;
            double force = 7 + (t > 0 ? course.applyAsDouble(t) : 0) + noiseN * random.nextGaussian();
            buffer.add(shiftNs + i * 1_000_000L, scale * force, false);
        }
        return new Segment(buffer, 0, SAMPLES);
    }

    private static Departure find(Segment trace, boolean upwards, double scale) {
        return new Departure(trace, 0, 200, SAMPLES, upwards, 40 * scale, 0.5 * scale, 1);
    }

    @Test
    void shouldFindTheMomentWhateverTheShapeAndSayHowWell() {
        DoubleUnaryOperator[] courses = {
            t -> 500 * t,
            t -> 15_000 * t * Math.sqrt(t),
            t -> 5000 * t * t,
            t -> 45_000 * t * t * t,
            t -> 400 * -StrictMath.expm1(-t / 0.3),
            t -> 7 * StrictMath.expm1(t / 0.05),
        };
        for (DoubleUnaryOperator course : courses) {
            Departure fit = find(trace(course, 1, 0, 0.5), true, 1);
            assertTrue(fit.found());
            double error = Math.abs(fit.tauS() - TRUE_S);
            assertTrue(error <= 2 * fit.standardUncertaintyS(), "off by " + error + " s");
            assertTrue(fit.standardUncertaintyS() < 0.006, "u " + fit.standardUncertaintyS());
        }
    }

    @Test
    void shouldBeExactWithoutNoise() {
        Departure line = find(trace(t -> 500 * t, 1, 0, 1e-6), true, 1);
        assertEquals(TRUE_S, line.tauS(), 5e-4);
        Departure square = find(trace(t -> 5000 * t * t, 1, 0, 1e-6), true, 1);
        assertEquals(TRUE_S, square.tauS(), 5e-4);
    }

    @Test
    void shouldBeLessCertainInMoreNoise() {
        double quiet = find(trace(t -> 5000 * t * t, 1, 0, 0.2), true, 1).standardUncertaintyS();
        double noisy = find(trace(t -> 5000 * t * t, 1, 0, 2), true, 1).standardUncertaintyS();
        assertTrue(noisy > 1.5 * quiet, noisy + " against " + quiet);
    }

    @Test
    void shouldFallAsItRises() {
        Departure up = find(trace(t -> 500 * t, 1, 0, 0.5), true, 1);
        Departure down = find(trace(t -> 500 * t, -1, 0, 0.5), false, 1);
        assertEquals(up.tauS(), down.tauS(), 1e-12);
    }

    @Test
    void shouldNotCareForScaleOrTime() {
        Departure plain = find(trace(t -> 5000 * t * t, 1, 0, 0.5), true, 1);
        Departure scaled = find(trace(t -> 5000 * t * t, 8, 0, 0.5), true, 8);
        assertEquals(plain.tauS(), scaled.tauS(), 1e-9);
        assertEquals(plain.standardUncertaintyS(), scaled.standardUncertaintyS(), 1e-9);
        Departure later = find(trace(t -> 5000 * t * t, 1, 1L << 50, 0.5), true, 1);
        assertEquals(plain.tauS(), later.tauS(), 0.0, "times count from the stretch's first sample");
    }

    @Test
    void shouldFindNothingInTooFewSamplesOrTheWrongWay() {
        Segment rising = trace(t -> 500 * t, 1, 0, 1e-6);
        assertFalse(new Departure(rising, 0, 395, SAMPLES, true, 40, 0.5, 1).found());
        assertFalse(find(rising, false, 1).found());
    }
}

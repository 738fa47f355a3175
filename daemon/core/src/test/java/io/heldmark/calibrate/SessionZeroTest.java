package io.heldmark.calibrate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import io.heldmark.model.ZeroState;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class SessionZeroTest {
    private final List<ZeroState> told = new ArrayList<>();

    private SessionZero zero() {
        return new SessionZero(3, SessionZeroConfig.defaults(), "N", 0.01, told::add);
    }

    /** Feeds 10-ms batches of a trace from one time to another; stops when the zero is no longer being taken. */
    private double feed(
            SessionZero zero,
            double rateHz,
            double fromS,
            double toS,
            int flags,
            boolean open,
            DoubleUnaryOperator force) {
        int n = (int) Math.max(1, rateHz / 100);
        SampleBatch b = new SampleBatch(n);
        b.flags = flags;
        for (long i = Math.round(fromS * rateHz); i < Math.round(toS * rateHz); i += n) {
            b.count = n;
            for (int k = 0; k < n; k++) {
                b.timeNs[k] = Math.round((i + k) / rateHz * 1e9);
                b.forceN[k] = force.applyAsDouble((i + k) / rateHz);
            }
            zero.onBatch(b, 0, open);
            if (!zero.state().state().equals("taking")) {
                return (i + n) / rateHz;
            }
        }
        return toS;
    }

    private static DoubleUnaryOperator noise(double level, double sd, long seed) {
        Random random = new Random(seed);
        return t -> level + sd * random.nextGaussian();
    }

    @Test
    void shouldTakeTheMeanOfAQuietSecond() {
        SessionZero zero = zero();
        zero.request(0);
        double at = feed(zero, 1000, 0, 5, 0, false, noise(37.2, 1, 1));
        assertEquals("taken", zero.state().state());
        assertEquals(37.2, zero.state().zeroN(), 0.15);
        assertEquals(1.0, at, 0.03, "one second is enough");
        assertEquals(3, zero.state().channel());
        assertEquals(
                List.of("taking", "taken"), told.stream().map(ZeroState::state).toList());
        assertNull(zero.state().reason());
    }

    @Test
    void shouldCoverTheTruthWithItsUncertainty() {
        for (double rate : new double[] {80, 1000}) {
            double squares = 0;
            int n = 300;
            for (int s = 0; s < n; s++) {
                SessionZero zero = zero();
                zero.request(0);
                // Correlated noise: a first-order lag of 30 ms over white noise, SD 1 N, mean 0.
                Random random = new Random(s);
                double keep = StrictMath.exp(-1 / (rate * 0.03));
                double[] state = {random.nextGaussian()};
                feed(zero, rate, 0, 5, 0, false, t -> {
                    state[0] = keep * state[0] + Math.sqrt(1 - keep * keep) * random.nextGaussian();
                    return state[0];
                });
                assertEquals("taken", zero.state().state());
                double ratio = zero.state().zeroN() / zero.state().standardUncertaintyN();
                squares += ratio * ratio;
            }
            // 1 would be exact; white-noise arithmetic (SD / sqrt(1000)) would give about 60 at 1 kHz.
            assertTrue(squares / n > 0.5 && squares / n < 1.6, "mean squared error over u: " + squares / n);
        }
    }

    @Test
    void shouldAverageHumAway() {
        SessionZero zero = zero();
        zero.request(0);
        feed(zero, 1000, 0, 5, 0, false, t -> 10 + 6 * StrictMath.sin(2 * Math.PI * 50 * t));
        assertEquals("taken", zero.state().state());
        assertEquals(10, zero.state().zeroN(), 1e-6);
    }

    @Test
    void shouldAddTheDriftDuringTheSecond() {
        SessionZero zero = zero();
        zero.request(0);
        feed(zero, 1000, 0, 5, 0, false, t -> 10 + 1.0 * t);
        assertEquals("taken", zero.state().state());
        // Half of 1 N over sqrt(3), and 0.01 / sqrt(12).
        assertEquals(0.5 / Math.sqrt(3), zero.state().standardUncertaintyN(), 0.003);
    }

    @Test
    void shouldWaitForQuietAndTakeItThen() {
        SessionZero zero = zero();
        zero.request(0);
        DoubleUnaryOperator quiet = noise(5, 0.5, 2);
        double at = feed(
                zero, 1000, 0, 10, 0, false, t -> quiet.applyAsDouble(t) + (t < 2.55 ? 20 * StrictMath.sin(3 * t) : 0));
        assertEquals("taken", zero.state().state());
        assertEquals(5, zero.state().zeroN(), 0.2);
        assertEquals(3.6, at, 0.11);
    }

    @Test
    void shouldRefuseAndSayWhy() {
        assertRefused("the noise is 12", 0, false, noise(0, 12, 3));
        assertRefused("the force is changing by 5.0 N/s, allowed is 2.0", 0, false, t -> 5 * t);
        assertRefused("the force moves by", 0, false, t -> 4 * StrictMath.sin(2 * Math.PI * 1.3 * t));
        assertRefused("a contraction is under way", 0, true, noise(0, 1, 4));
        assertRefused("the converter is at the end of its range", SampleBatch.OVERLOAD, false, noise(0, 1, 5));
        assertRefused("the converter reports a fault", SampleBatch.ADC_FAULT, false, noise(0, 1, 5));
    }

    /** Feeds a quiet trace of which a part is missing again and again. */
    private ZeroState withGaps(double everyS, double gapS) {
        SessionZero zero = zero();
        zero.request(0);
        DoubleUnaryOperator quiet = noise(5, 1, 6);
        for (double fromS = 0; fromS < 9; fromS += everyS) {
            feed(zero, 1000, fromS, fromS + 0.01, fromS > 0 ? SampleBatch.GAP_BEFORE : 0, false, quiet);
            feed(zero, 1000, fromS + 0.01, fromS + everyS - gapS, 0, false, quiet);
        }
        return zero.state();
    }

    @Test
    void shouldRefuseWhereTooMuchIsMissing() {
        ZeroState refused = withGaps(0.6, 0.1);
        assertEquals("refused", refused.state());
        assertTrue(String.valueOf(refused.reason()).contains("samples are missing"), refused.toString());
    }

    @Test
    void shouldTakeTheZeroThoughMessagesAreLost() {
        ZeroState taken = withGaps(0.3, 0.03);
        assertEquals("taken", taken.state());
        assertEquals(5, taken.zeroN(), 0.15);
    }

    private void assertRefused(String why, int flags, boolean open, DoubleUnaryOperator force) {
        SessionZero zero = zero();
        zero.request(0);
        double at = feed(zero, 1000, 0, 20, flags, open, force);
        assertEquals("refused", zero.state().state());
        String reason = zero.state().reason();
        assertTrue(reason.startsWith("no quiet second within 8 s: ") && reason.contains(why), reason);
        assertEquals(8, at, 0.05);
    }

    @Test
    void shouldRefuseWithoutSamples() {
        SessionZero zero = zero();
        zero.request(1_000_000_000L);
        zero.onClock(8_900_000_000L);
        assertEquals("taking", zero.state().state());
        zero.onClock(9_100_000_000L);
        assertEquals(
                "no quiet second within 8 s: no samples arrived", zero.state().reason());
    }

    @Test
    void shouldKeepTheZeroBeforeWhenRefused() {
        SessionZero zero = zero();
        zero.request(0);
        feed(zero, 1000, 0, 5, 0, false, noise(40, 1, 7));
        double first = zero.state().zeroN();
        zero.request(6_000_000_000L);
        assertEquals(first, zero.state().zeroN());
        zero.onClock(20_000_000_000L);
        assertEquals("refused", zero.state().state());
        assertEquals(first, zero.state().zeroN());
    }

    @Test
    void shouldWaitWithoutEndWhenAskedToTakeItWhenQuiet() {
        SessionZero zero = zero();
        zero.requestWhenQuiet(0);
        feed(zero, 500, 0, 60, 0, false, t -> 30 * StrictMath.sin(4 * t));
        assertEquals("taking", zero.state().state());
        feed(zero, 500, 60, 65, 0, false, noise(8, 1, 8));
        assertEquals("taken", zero.state().state());
        assertEquals(8, zero.state().zeroN(), 0.3);
    }

    @Test
    void shouldNotUseSamplesFromBeforeTheRequest() {
        SessionZero zero = zero();
        zero.request(2_000_000_000L);
        feed(zero, 1000, 0, 2, 0, false, t -> 100);
        double at = feed(zero, 1000, 2, 9, 0, false, t -> 7);
        assertEquals(7, zero.state().zeroN(), 1e-9);
        assertEquals(3, at, 0.03);
    }

    @Test
    void shouldAddTheZeroInForceToWhatItReads() {
        SessionZero zero = zero();
        zero.request(0);
        SampleBatch b = new SampleBatch(1500);
        b.count = 1500;
        for (int i = 0; i < 1500; i++) {
            b.timeNs[i] = i * 1_000_000L;
            b.forceN[i] = 2;
        }
        zero.onBatch(b, 33, false);
        assertEquals(35, zero.state().zeroN(), 1e-9);
    }

    @Test
    void shouldBeUnmovedByHowSamplesAreCutIntoBatches() {
        double[] zeros = new double[3];
        int[] sizes = {1, 7, 640};
        for (int k = 0; k < 3; k++) {
            SessionZero zero = zero();
            zero.request(0);
            Random random = new Random(9);
            SampleBatch b = new SampleBatch(sizes[k]);
            for (int i = 0; i < 3000 && zero.state().state().equals("taking"); i++) {
                b.timeNs[b.count] = i * 1_000_000L;
                b.forceN[b.count++] = random.nextGaussian();
                if (b.count == sizes[k]) {
                    zero.onBatch(b, 0, false);
                    b.count = 0;
                }
            }
            zeros[k] = zero.state().zeroN();
        }
        assertEquals(zeros[0], zeros[1]);
        assertEquals(zeros[0], zeros[2]);
    }

    @Test
    void shouldRefuseBadLimits() {
        assertThrows(IllegalArgumentException.class, () -> new SessionZeroConfig(0.1, 8, 8, 2, 2));
        assertThrows(IllegalArgumentException.class, () -> new SessionZeroConfig(1, 0, 8, 2, 2));
        assertThrows(IllegalArgumentException.class, () -> new SessionZeroConfig(1, 8, Double.NaN, 2, 2));
        assertThrows(IllegalArgumentException.class, () -> new SessionZeroConfig(1, 8, 8, 0, 2));
        assertThrows(IllegalArgumentException.class, () -> new SessionZeroConfig(1, 8, 8, 2, -1));
    }
}

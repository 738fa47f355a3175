package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Random efforts, weights, knocks, gaps and new zeros are told the same, to the bit, whether the samples of an open contraction
 * are let wait or looked at one by one, as batches are that are too long to wait.
 */
class OpenWaitTest {
    private static final int STRETCH = 2500;
    private static final int STRETCHES = 60;
    /** Cut soon, so that the longest contraction is met too. */
    private static final DetectorConfig SHORT = new DetectorConfig(5, 5.5, 15, 0.25, 0.5, 6);

    /** A level that turns to another now and then, at any speed; at times with the tremor of a muscle. */
    private static double[] trace(int rateHz, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] forceN = new double[STRETCHES * STRETCH];
        double targetN = 0;
        double levelN = 0;
        double speed = 1;
        double tremor = 0;
        for (int i = 0; i < forceN.length; i++) {
            if (random.nextInt(rateHz) == 0) {
                boolean toRest = random.nextInt(2) == 0;
                targetN = toRest ? 0 : 300 * random.nextDouble() * random.nextDouble();
                speed = random.nextInt(4) == 0 ? 1 : (2 + 30 * random.nextDouble()) / rateHz;
                tremor = random.nextInt(3) == 0 ? 0 : 0.02;
            }
            levelN += Math.min(1, speed) * (targetN - levelN);
            double knock = random.nextInt(20 * rateHz) == 0 ? 80 : 0;
            double wave = StrictMath.sin(2 * Math.PI * 9 * i / rateHz) + StrictMath.sin(2 * Math.PI * 0.7 * i / rateHz);
            forceN[i] = levelN * (1 + tremor * wave) + knock + 0.3 * (random.nextDouble() - 0.5);
        }
        return forceN;
    }

    private final Set<ContractionFlag> met = EnumSet.noneOf(ContractionFlag.class);

    private final class Teller extends ToldLines {
        @Override
        public void onClosed(Contraction finished, Window window, long atNs) {
            super.onClosed(finished, window, atNs);
            met.addAll(window.flags());
        }

        @Override
        public void onWithdrawn(Contraction withdrawn, long atNs) {
            super.onWithdrawn(withdrawn, atNs);
            for (ContractionFlag flag : ContractionFlag.values()) {
                if (withdrawn.flags().contains(flag.id())) {
                    met.add(flag);
                }
            }
        }
    }

    private List<String> run(double[] forceN, int rateHz, int length, DetectorConfig config) {
        Teller told = new Teller();
        ContractionDetector detector = told.detector(config, rateHz);
        SampleBatch batch = new SampleBatch(STRETCH);
        long shiftNs = 0;
        for (int stretch = 0; stretch < STRETCHES; stretch++) {
            int begin = stretch * STRETCH;
            int kind = stretch % 8;
            shiftNs += kind == 3 ? 60_000_000L : kind == 5 ? 800_000_000L : kind == 2 ? -2_000_000_000L : 0;
            for (int at = begin; at < begin + STRETCH; at += batch.count) {
                batch.count = Math.min(length, begin + STRETCH - at);
                batch.flags = at == begin && (kind == 3 || kind == 5) ? SampleBatch.GAP_BEFORE : 0;
                for (int i = 0; i < batch.count; i++) {
                    batch.timeNs[i] = (at + i) * 1_000_000_000L / rateHz + shiftNs;
                    batch.forceN[i] = forceN[at + i];
                }
                detector.onBatch(batch);
            }
            afterStretch(detector, kind, batch.timeNs[batch.count - 1]);
        }
        detector.end((long) STRETCH * STRETCHES * 1_000_000_000L / rateHz);
        return told.lines();
    }

    private static void afterStretch(ContractionDetector detector, int kind, long lastNs) {
        if (kind == 1) {
            detector.zeroTaken(0.75, ZeroReference.taken(0.75, 0.01, lastNs));
        } else if (kind == 4) {
            detector.onClock(lastNs + 10_000_000_000L);
        } else if (kind == 6) {
            detector.reset(lastNs);
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {60, 200, 1000, 2000})
    void shouldTellTheSameWhateverTheLengthOfABatch(int rateHz) {
        for (long seed = 0; seed < 4; seed++) {
            DetectorConfig config = seed % 2 == 0 ? SHORT : DetectorConfig.defaults();
            double[] forceN = trace(rateHz, 8_800 + seed);
            List<String> oneByOne = run(forceN, rateHz, STRETCH, config);
            assertTrue(oneByOne.size() >= 20, () -> "told: " + oneByOne);
            for (int length : new int[] {1, 10, 33, 256}) {
                assertEquals(oneByOne, run(forceN, rateHz, length, config), "batches of " + length + ", seed " + seed);
            }
        }
    }

    @Test
    void shouldMeetEveryKindOfEvent() {
        for (int rateHz : new int[] {60, 200, 1000, 2000}) {
            for (long seed = 0; seed < 4; seed++) {
                run(trace(rateHz, 8_800 + seed), rateHz, 10, seed % 2 == 0 ? SHORT : DetectorConfig.defaults());
            }
        }
        Set<ContractionFlag> missing = EnumSet.of(
                ContractionFlag.STEP,
                ContractionFlag.STILL,
                ContractionFlag.MAXIMUM_LENGTH,
                ContractionFlag.DOUBLE_EFFORT,
                ContractionFlag.NOT_BACK_TO_REST,
                ContractionFlag.RESTING_LEVEL_CHANGED,
                ContractionFlag.GAP_INSIDE,
                ContractionFlag.SAMPLES_LOST,
                ContractionFlag.CLOCK_RESTARTED,
                ContractionFlag.TOO_BRIEF,
                ContractionFlag.TOO_WEAK);
        missing.removeAll(met);
        assertEquals(Set.of(), missing);
    }
}

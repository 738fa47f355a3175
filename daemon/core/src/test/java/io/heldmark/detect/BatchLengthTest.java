package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import io.heldmark.model.ZeroReference;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What is told does not depend on how many samples come at once, to the bit. Batches of more samples than may ever wait are
 * looked at one by one, so that they are the measure for those that are let wait at rest.
 */
class BatchLengthTest {
    private static final int LONG = 4000;
    private static final int SECONDS = 120;

    /** Rest with noise, drift and hum; efforts, swings below rest, steps; gaps and a new zero at fixed samples. */
    private static double[] trace(int rateHz, double noiseN, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] forceN = new double[SECONDS * rateHz];
        for (int i = 0; i < forceN.length; i++) {
            double s = (double) i / rateHz;
            double cycle = s % 15;
            double effort = cycle > 5 && cycle < 8 ? 200 * Math.min(1, Math.min(4 * (cycle - 5), 5 * (8 - cycle))) : 0;
            double swing = cycle > 11 && cycle < 11.4 ? -20 : 0;
            double step = s > 60 ? 4 : 0;
            double wander = 1.5 * StrictMath.sin(s / 7) + 0.8 * StrictMath.sin(2 * Math.PI * 50 * s);
            forceN[i] = effort + swing + step + wander + noiseN * random.nextGaussian();
        }
        return forceN;
    }

    private static List<String> told(double[] forceN, int rateHz, int length) {
        ToldLines told = new ToldLines();
        ContractionDetector detector = told.detector(DetectorConfig.defaults(), rateHz);
        SampleBatch batch = new SampleBatch(LONG);
        int at = 0;
        while (at < forceN.length) {
            // A stretch ends where samples are missing, or a zero is taken, whatever the length of a batch.
            int stretchEnd = Math.min(forceN.length, (at / LONG + 1) * LONG);
            fill(batch, forceN, at, Math.min(length, stretchEnd - at), rateHz);
            detector.onBatch(batch);
            at += batch.count;
            if (at == 6 * LONG) {
                detector.zeroTaken(0.75, ZeroReference.taken(0.75, 0.01, batch.timeNs[0]));
            }
        }
        detector.end(SECONDS * 1_000_000_000L);
        return told.lines();
    }

    private static void fill(SampleBatch batch, double[] forceN, int from, int count, int rateHz) {
        batch.count = count;
        boolean gap = from % LONG == 0 && (from / LONG) % 4 == 3;
        batch.flags = gap ? SampleBatch.GAP_BEFORE : 0;
        for (int i = 0; i < count; i++) {
            int stretch = (from + i) / LONG;
            int missing = stretch / 4 + (stretch % 4 == 3 ? 1 : 0);
            batch.timeNs[i] = (from + i) * 1_000_000_000L / rateHz + missing * 30_000_000L;
            batch.forceN[i] = forceN[from + i];
        }
    }

    @ParameterizedTest
    @CsvSource({"1000, 0.3", "1000, 1.5", "2000, 0.5", "500, 0.2", "80, 0.3", "20, 0.3"})
    void shouldTellTheSameWhateverTheLengthOfABatch(int rateHz, double noiseN) {
        double[] forceN = trace(rateHz, noiseN, 6_300_001L + rateHz);
        List<String> oneByOne = told(forceN, rateHz, LONG);
        assertTrue(oneByOne.size() >= 16, () -> "told: " + oneByOne);
        for (int length : new int[] {1, 7, 10, 31, 500}) {
            assertEquals(oneByOne, told(forceN, rateHz, length), "batches of " + length);
        }
    }
}

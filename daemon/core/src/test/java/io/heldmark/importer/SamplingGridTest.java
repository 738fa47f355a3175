package io.heldmark.importer;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SamplingGridTest {
    /** Steps of a trace whose times are written in units of a digit, every {@code lost}-th sample left out. */
    private static long[] steps(double rateHz, long digitNs, int lost) {
        long[] steps = new long[2000];
        long last = 0;
        int sample = 0;
        for (int i = 0; i < steps.length; i++) {
            sample++;
            if (lost > 0 && sample % lost == 0) {
                sample++;
            }
            long now = Math.round(sample * 1e9 / rateHz / digitNs) * digitNs;
            steps[i] = now - last;
            last = now;
        }
        return steps;
    }

    @ParameterizedTest
    @CsvSource({
        "1000, 1000000, 0, 49", "1000, 1000000, 20, 49", "1000, 1000, 0, 49", "80, 100000, 0, 49",
        "80, 1000000, 50, 49", "100, 1000000, 0, 49", "500, 1000000, 0, 49", "2000, 100000, 33, 49",
        "1200, 1000, 0, 49", "700, 1000000, 0, 40", "600, 1000000, 0, 30", "80, 10000000, 0, 0",
    })
    void shouldFindTheRateAndTheLostSamplesThatTheDigitsShow(double rateHz, long digitNs, int lost, int leastGaps) {
        SamplingGrid grid = SamplingGrid.of(steps(rateHz, digitNs, lost), digitNs);
        assertEquals(rateHz, grid.sampleRateHz(), 0.002 * rateHz);
        int gaps = 0;
        for (long step : steps(rateHz, digitNs, 40)) {
            gaps += grid.isGap(step) ? 1 : 0;
            assertTrue(grid.isGap(step) || grid.isRegular(step), () -> "step " + step);
        }
        assertTrue(gaps >= leastGaps, "gaps found where 51 samples are lost: " + gaps);
        for (long step : steps(rateHz, digitNs, 0)) {
            assertFalse(grid.isGap(step), () -> "step " + step);
        }
    }

    @ParameterizedTest
    @CsvSource({"700000, irregular", "1300000, irregular", "1200000, regular", "1510000, gap", "900000, regular"})
    void shouldTellRegularStepsFromGapsAndTheRest(long stepNs, String what) {
        SamplingGrid grid = SamplingGrid.of(steps(1000, 1000, 0), 1000);
        assertEquals(what.equals("gap"), grid.isGap(stepNs));
        assertEquals(what.equals("regular"), grid.isRegular(stepNs) && !grid.isGap(stepNs));
    }
}

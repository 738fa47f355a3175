package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.InventedEffort.Rise;
import io.heldmark.model.Contraction;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Onsets with samples missing about them. */
class OnsetAcrossGapTest {
    private static final InventedEffort EFFORT = InventedEffort.explosive(3, 400, Rise.EXPONENTIAL, 0.08, 2);

    /** A lost message of 10 ms anywhere about the onset, as a radio link has every second. */
    @Test
    void shouldFindTheOnsetThoughAMessageIsLostAboutIt() {
        for (int ms = -20; ms <= 100; ms += 5) {
            double fromS = EFFORT.onsetS() + ms * 1e-3;
            InventedTrace trace = new InventedTrace(1000, 12, 1).noise(0.5).with(EFFORT);
            List<Contraction> found = DetectorRun.of(trace.gap(fromS, fromS + 0.01)).closed;
            String when = "lost from " + ms + " ms on";
            assertEquals(1, found.size(), when);
            double errorS = found.get(0).onsetNs() * 1e-9 - EFFORT.onsetS();
            assertEquals(0, errorS, 0.008, when);
            assertTrue(Math.abs(errorS) < 3 * found.get(0).onsetStandardUncertaintyNs() * 1e-9, when);
        }
    }
}

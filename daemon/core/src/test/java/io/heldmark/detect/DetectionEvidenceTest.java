package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * How well contractions are found, judged against the truth of invented traces over a grid of rates and noises. Prints the
 * tables, holds the bars and holds {@code docs/detection.md} to the tables; run with {@code -Dheldmark.regenerate=true} to
 * write them there.
 *
 * <p>Scoring: one to one, a found window matches a true one if they overlap by at least half of their union.
 */
class DetectionEvidenceTest {
    private static final String BEGIN = "<!-- evidence: made by DetectionEvidenceTest -->\n";
    private static final String END = "<!-- end of evidence -->";

    private static DetectionEvidence evidence;

    @BeforeAll
    static void gather() {
        evidence = DetectionEvidence.gather();
        System.out.println(evidence.markdown());
    }

    @Test
    void shouldFindWhatIsThereAndNothingElse() {
        int truth = 0;
        int matched = 0;
        int found = 0;
        for (DetectionEvidence.Kind kind : evidence.kinds.values()) {
            truth += kind.truth;
            matched += kind.matched;
            found += kind.found;
        }
        assertTrue(truth > 3000, "efforts: " + truth);
        assertTrue(matched >= 0.995 * truth, "recall: " + matched + " of " + truth);
        assertTrue(matched >= 0.995 * found, "precision: " + matched + " of " + found);
    }

    @Test
    void shouldOpenWithinFiftyMillisecondsWhereNoiseLeavesFiveNewtonsToBeSeen() {
        for (double rate : DetectionEvidence.RATES_HZ) {
            for (double noise : DetectionEvidence.NOISES_N) {
                DetectionEvidence.Cell cell = evidence.cells.get(DetectionEvidence.cell(rate, noise));
                // Where 5.5 SD of the mean over 20 ms exceed 5 N, 200 N/s cannot be told from noise within 50 ms.
                double smoothed = noise / Math.sqrt(Math.max(2, 0.02 * rate));
                if (5.5 * smoothed <= 5) {
                    double p95 = DetectionEvidence.quantile(cell.explosiveMs, 0.95);
                    assertTrue(
                            p95 <= (rate >= 500 ? 50 : 55), DetectionEvidence.cell(rate, noise) + " explosive: " + p95);
                }
                double ramp = DetectionEvidence.quantile(cell.rampMs, 0.95);
                assertTrue(ramp <= 50, DetectionEvidence.cell(rate, noise) + " ramp: " + ramp);
            }
        }
    }

    @Test
    void shouldKeepNoWindowOnQuietTraces() {
        for (String name : EvidenceScenes.QUIET) {
            assertKept(name, 0, DetectionEvidence.NOISES_N);
        }
    }

    @Test
    void shouldKeepNoWindowOfHandling() {
        List<String> names = EvidenceScenes.HANDLING;
        for (String name : names) {
            // A weight laid down gently cannot be told from a weak hold once noise hides the unrest of muscle.
            assertKept(name, 0, name.endsWith("200 to 500 ms") ? new double[] {} : new double[] {0.2, 1, 2});
        }
        assertKept(names.get(2), 0, new double[] {0.2});
        assertKept(names.get(2), 15, new double[] {1});
    }

    private static void assertKept(String name, int most, double[] noises) {
        for (double noise : noises) {
            int kept = evidence.quiets.get(String.format(Locale.ROOT, "%s/%.1f", name, noise)).kept;
            assertTrue(kept <= most, name + " in noise of " + noise + " N: " + kept + " kept");
        }
    }

    @Test
    void shouldPlaceBoundariesWithoutGrossBias() {
        evidence.kinds.forEach((name, kind) -> {
            double onset = name.startsWith("weak") ? 40 : 10; // Noise of a quarter of the height hides it.
            assertEquals(0, DetectionEvidence.quantile(kind.onsetMs, 0.5), onset, name + ", onset");
            assertEquals(0, DetectionEvidence.quantile(kind.offsetMs, 0.5), 5, name + ", offset");
            assertEquals(0, DetectionEvidence.quantile(kind.releaseMs, 0.5), 30, name + ", release");
        });
    }

    @Test
    void shouldStateAnUncertaintyThatHolds() {
        int covered = 0;
        int matched = 0;
        for (DetectionEvidence.Kind kind : evidence.kinds.values()) {
            covered += kind.covered;
            matched += kind.matched;
        }
        double share = covered / (double) matched;
        assertTrue(share >= 0.90 && share <= 0.98, "true onsets within 95 % intervals: " + share);
        evidence.cells.forEach((name, cell) -> {
            double ofCell = cell.covered / (double) cell.matched;
            assertTrue(ofCell >= 0.88 && ofCell <= 0.995, name + ": " + ofCell);
        });
    }

    @Test
    void shouldFlagPreTensionAndDoubleEfforts() {
        DetectionEvidence.Kind twice = evidence.kinds.get("double effort");
        assertTrue(twice.flagged >= 0.98 * twice.truth, "double efforts flagged: " + twice.flagged);
        DetectionEvidence.Kind plain = evidence.kinds.get("explosive, exponential");
        assertTrue(plain.flagged <= 0.01 * plain.truth, "plain efforts flagged: " + plain.flagged);
    }

    @Test
    void shouldHoldThePageAndTheTablesTogether() throws IOException {
        Path page = Path.of(System.getProperty("heldmark.root", "../.."), "docs", "detection.md");
        String text = Files.readString(page);
        int from = text.indexOf(BEGIN) + BEGIN.length();
        int to = text.indexOf(END);
        String whole = text.substring(0, from) + evidence.markdown() + text.substring(to);
        if (Boolean.getBoolean("heldmark.regenerate")) {
            Files.writeString(page, whole);
        }
        assertEquals(whole, Files.readString(page), "regenerate: the command stands in the page");
    }
}

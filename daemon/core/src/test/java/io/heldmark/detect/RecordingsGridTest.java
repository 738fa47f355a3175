package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.InventedEffort.Rise;
import io.heldmark.model.Contraction;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

/**
 * What real recordings have and models of an effort have not: each case of the table in {@code docs/detection.md}, over
 * several seeds, rates and shapes of rise.
 */
class RecordingsGridTest {
    private static final double[] RATES_HZ = {100, 500, 1000};
    private static final Rise[] SHAPES = {Rise.EXPONENTIAL, Rise.SIGMOID, Rise.POWER, Rise.SATURATING_LATE};

    /** Rows of the page, each the sum of the scenes whose names begin so. */
    private static final Map<String, List<String>> ROWS = new LinkedHashMap<>();

    static {
        ROWS.put(
                "30 to 90 N gone with a time constant of 0.15 s, or first readings 900 N off",
                List.of("start-up", "spikes"));
        ROWS.put("begins 0.1, 0.15, 0.2 or 0.3 s before the effort", List.of("begins"));
        ROWS.put("0.1 to 0.3 s of rest between two efforts", List.of("rest of"));
        ROWS.put("drift to 1 N/s over 25 N", List.of("drift"));
        ROWS.put("swings of 30 to 90 N below rest, 0.1 to 1.2 s long, before the effort", List.of("swings"));
        ROWS.put("a cell knocked, loaded for 7 s, unloaded, before the effort", List.of("handling"));
        ROWS.put("steps of 1 N in noise of 0.5 N", List.of("steps of"));
        ROWS.put("steps of 1 N without any noise", List.of("steps, no noise"));
        ROWS.put("pulses at 8 peaks/s held for 0.25 s on a preload of 4 to 8 N", List.of("pulses held"));
        ROWS.put("pulses of 0.15 s on the same: withdrawn, as brief as a twitch", List.of("pulses of"));
        ROWS.put("efforts 1 to 2 s after the one before", List.of("seconds apart"));
        ROWS.put(
                "begins 0.03, 0.1 or 1 s after an onset: that effort is left out, the next one found",
                List.of("began"));
    }

    private static final Map<String, Outcome> OUTCOMES = new LinkedHashMap<>();

    /** The table, which only a run of the whole class knows. */
    @AfterAll
    static void shouldHoldThePageAndTheTableTogether() throws IOException {
        Path page = Path.of(System.getProperty("heldmark.root", "../.."), "docs", "detection.md");
        String text = Files.readString(page);
        String whole = text;
        for (Map.Entry<String, List<String>> row : ROWS.entrySet()) {
            String line = line(row.getKey(), row.getValue());
            int at = whole.indexOf("| " + row.getKey());
            assertTrue(at >= 0, row.getKey());
            whole = line == null ? whole : whole.substring(0, at) + line + whole.substring(whole.indexOf('\n', at));
        }
        if (Boolean.getBoolean("heldmark.regenerate")) {
            Files.writeString(page, whole);
        }
        assertEquals(whole, Files.readString(page), "regenerate: -Dtest=RecordingsGridTest -Dheldmark.regenerate=true");
    }

    private static @Nullable String line(String label, List<String> scenes) {
        int truth = 0;
        Outcome sum = new Outcome();
        for (Map.Entry<String, Outcome> entry : OUTCOMES.entrySet()) {
            if (scenes.stream().anyMatch(entry.getKey()::startsWith)) {
                Outcome one = entry.getValue();
                truth += entry.getKey().startsWith("began")
                        ? one.truth / 2
                        : one.truth; // The first was not to be found.
                sum.matched += one.matched;
                sum.covered += one.covered;
                sum.flagged += one.flagged;
                sum.onsetMs.addAll(one.onsetMs);
            }
        }
        String said = "";
        if (label.startsWith("steps") && label.endsWith("noise")) {
            said = String.format(
                    Locale.ROOT,
                    ": onset %.0f ms late in the median, up to %.0f ms (%d say `onset-uncertain`)",
                    DetectionEvidence.quantile(sum.onsetMs, 0.5),
                    DetectionEvidence.quantile(sum.onsetMs, 0.975),
                    sum.flagged);
        } else if (label.startsWith("steps")) {
            said = String.format(Locale.ROOT, " (%d say `onset-uncertain`)", sum.flagged);
        }
        String covered = sum.matched == 0 ? " |" : String.format(Locale.ROOT, " %d |", sum.covered);
        return truth == 0
                ? null
                : String.format(Locale.ROOT, "| %s%s | %d of %d |%s", label, said, sum.matched, truth, covered);
    }

    private interface Scene {
        InventedTrace of(double rateHz, Rise shape, int seed);
    }

    /** What came of a scene over all rates, shapes and seeds. */
    private static final class Outcome {
        int truth;
        int matched;
        int found;
        int flagged;
        final List<Double> onsetMs = new ArrayList<>();
        int covered;

        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "true %d, matched %d, found %d, flagged %d, within 2 u %d, onset %.1f [%.1f, %.1f] ms",
                    truth,
                    matched,
                    found,
                    flagged,
                    covered,
                    DetectionEvidence.quantile(onsetMs, 0.5),
                    DetectionEvidence.quantile(onsetMs, 0.025),
                    DetectionEvidence.quantile(onsetMs, 0.975));
        }
    }

    private static Outcome judge(String name, String flag, Scene scene) {
        Outcome outcome = new Outcome();
        for (double rate : RATES_HZ) {
            for (Rise shape : SHAPES) {
                for (int seed = 1; seed <= 3; seed++) {
                    InventedTrace trace = scene.of(rate, shape, seed);
                    add(outcome, trace, DetectorRun.toTheEnd(trace), flag);
                }
            }
        }
        System.out.println(name + ": " + outcome);
        OUTCOMES.put(name, outcome);
        return outcome;
    }

    private static void add(Outcome outcome, InventedTrace trace, DetectorRun run, String flag) {
        outcome.found += run.closed.size();
        for (InventedEffort effort : trace.efforts) {
            outcome.truth++;
            Contraction c = DetectorRun.match(effort, run.closed);
            if (c == null) {
                continue;
            }
            outcome.matched++;
            double errorNs = c.onsetNs() - effort.onsetS() * 1e9;
            outcome.onsetMs.add(errorNs * 1e-6);
            outcome.covered += Math.abs(errorNs) <= 2 * c.onsetStandardUncertaintyNs() ? 1 : 0;
            outcome.flagged += c.flags().contains(flag) ? 1 : 0;
        }
    }

    private static void assertAllFound(Outcome outcome) {
        assertEquals(outcome.truth, outcome.matched, outcome.toString());
        assertEquals(outcome.truth, outcome.found, outcome.toString());
    }

    private static InventedEffort effort(double onsetS, double heightN, Rise shape, int seed) {
        return InventedEffort.steep(onsetS, heightN, shape, 2 + 2 * seed, 1.5);
    }

    private static InventedTrace trace(double rateHz, double lengthS, long seed) {
        return new InventedTrace(rateHz, lengthS, seed).noise(0.5);
    }

    @Test
    void shouldPassOverTheStartUpOfASensor() {
        assertAllFound(judge("start-up", "", (rate, shape, seed) -> {
            InventedTrace trace = trace(rate, 9, seed).with(effort(4, 300, shape, seed));
            double heightN = 60 * (seed - 2.5); // -90, -30, 30 N that settle within half a second
            trace.others.add(t -> heightN * StrictMath.exp(-t / 0.15));
            return trace;
        }));
        assertAllFound(judge("spikes", "", (rate, shape, seed) -> {
            InventedTrace trace = trace(rate, 9, seed).with(effort(4, 300, shape, seed));
            trace.others.add(t -> t < 0.012 ? 900 * (seed - 2) : 0); // First readings of a converter that settles
            return trace;
        }));
    }

    @Test
    void shouldDoWithATenthOfASecondOfRest() {
        for (double restS : new double[] {0.1, 0.15, 0.2, 0.3}) {
            Outcome first = judge(
                    "begins " + restS + " s before",
                    "",
                    (rate, shape, seed) -> trace(rate, 6, seed).with(effort(restS, 300, shape, seed)));
            assertAllFound(first);
            assertTrue(first.covered >= 0.9 * first.truth, first.toString());
            assertAllFound(judge("rest of " + restS + " s between", "", (rate, shape, seed) -> {
                InventedEffort one = effort(2, 300, shape, seed);
                return trace(rate, 9, seed).with(one).with(effort(one.offsetS() + 0.2 + restS, 280, shape, seed));
            }));
        }
    }

    @Test
    void shouldFollowDriftOfManyNewtons() {
        assertAllFound(judge("drift", "resting-level-off-zero", (rate, shape, seed) -> {
            InventedTrace trace = trace(rate, 40, seed);
            trace.others.add(t -> 25 * StrictMath.sin(2 * Math.PI * t / 160 * (seed == 2 ? -1 : 1)));
            for (double at = 5; at < 36; at += 8) {
                trace.with(effort(at, 250, shape, seed));
            }
            return trace;
        }));
    }

    @Test
    void shouldNotTakeANegativeSwingForAnEffort() {
        assertAllFound(judge("swings", "", (rate, shape, seed) -> {
            InventedTrace trace = trace(rate, 16, seed).with(effort(9, 300, shape, seed));
            return trace.bump(3, -80, 0.3).bump(5, -30 * seed, 1.2).bump(13, -60, 0.1);
        }));
    }

    @Test
    void shouldKeepNothingOfHandlingBeforeAnEffort() {
        assertAllFound(judge("handling", "", (rate, shape, seed) -> {
            InventedTrace trace = trace(rate, 24, seed).with(effort(18, 300, shape, seed));
            trace.bump(3, 120, 0.05).bump(3.2, -90, 0.08).bump(3.35, 60, 0.06).bump(5, 30, 0.2);
            return trace.laidDown(7, 40, 0.04, 14).bump(15, -50, 0.09);
        }));
    }

    @Test
    void shouldWorkInStepsOfANewton() {
        // Without noise to move it across a step, a reading says little of what lies between two steps.
        Outcome quiet = judge(
                "steps, no noise",
                "onset-uncertain",
                (rate, shape, seed) ->
                        new InventedTrace(rate, 9, seed).coarse(1).with(effort(4, 150, shape, seed)));
        assertAllFound(quiet);
        assertEquals(0, DetectionEvidence.quantile(quiet.onsetMs, 0.5), 5);
        assertTrue(quiet.covered >= 0.9 * quiet.truth, quiet.toString());
        assertAllFound(judge(
                "steps of 1 N",
                "onset-uncertain",
                (rate, shape, seed) -> trace(rate, 9, seed).coarse(1).with(effort(4, 150, shape, seed))));
    }

    @Test
    void shouldFindQuickPulsesOverAPreLoad() {
        Outcome held = pulses("pulses held for 0.25 s", 0.25);
        assertAllFound(held);
        assertTrue(held.covered >= 0.9 * held.truth, held.toString());
        // Over half of their peak for less than 0.25 s: a twitch is as brief, so these are taken back.
        Outcome brief = judge(
                "pulses of 0.15 s",
                "",
                (rate, shape, seed) -> preLoaded(rate, seed)
                        .with(new InventedEffort(4, 200, Rise.POWER, 0.1, 0.05, 0.06, false, 0, 0, 0, 0, 0, 0, 1)));
        assertEquals(0, brief.found, brief.toString());
    }

    private static InventedTrace preLoaded(double rateHz, int seed) {
        InventedTrace trace = trace(rateHz, 14, seed);
        double preLoadN = 2 + 2 * seed;
        trace.others.add(t -> t < 1.5 ? 0 : preLoadN * Math.min(1, (t - 1.5) / 0.5));
        return trace;
    }

    private static Outcome pulses(String name, double holdS) {
        return judge(name, "", (rate, shape, seed) -> {
            InventedTrace trace = preLoaded(rate, seed);
            for (double at = 4; at < 12; at += 1.5) {
                trace.with(InventedEffort.steep(at, 200, shape, 8, holdS));
            }
            return trace;
        });
    }

    @Test
    void shouldPartEffortsThatAreSecondsApart() {
        assertAllFound(judge("seconds apart", "", (rate, shape, seed) -> {
            InventedTrace trace = trace(rate, 40, seed);
            for (double at = 3;
                    at < 36;
                    at = trace.efforts.get(trace.efforts.size() - 1).offsetS() + 0.5 + 0.5 * seed) {
                trace.with(effort(at, 200 + 10 * at, shape, seed));
            }
            return trace;
        }));
    }

    @Test
    void shouldKeepNothingOfWhatBeganBeforeTheRecording() {
        for (double beforeS : new double[] {0.03, 0.1, 1}) {
            Outcome outcome = judge(
                    "began " + beforeS + " s before",
                    "",
                    (rate, shape, seed) -> trace(rate, 12, seed)
                            .with(effort(-beforeS, 300, shape, seed))
                            .with(effort(7, 300, shape, seed)));
            // There is no rest to measure from: the first is left out, the second found.
            assertEquals(outcome.truth / 2, outcome.matched, outcome.toString());
            assertEquals(outcome.truth / 2, outcome.found, outcome.toString());
        }
    }

    @Test
    void shouldSayThatTheEndWasNotRecorded() {
        for (double lengthS : new double[] {4, 5}) {
            for (Rise shape : SHAPES) {
                DetectorRun run =
                        DetectorRun.toTheEnd(trace(1000, lengthS, 1).with(InventedEffort.steep(3, 300, shape, 4, 3)));
                assertEquals(1, run.closed.size());
                Contraction c = run.closed.get(0);
                assertTrue(c.flags().contains("samples-lost"), c.toString());
                assertEquals(lengthS, c.offsetNs() * 1e-9, 0.002);
                assertEquals(3, c.onsetNs() * 1e-9, 3 * c.onsetStandardUncertaintyNs() * 1e-9);
            }
        }
    }
}

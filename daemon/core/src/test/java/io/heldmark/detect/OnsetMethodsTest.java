package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * How well onsets are placed, beside the methods people use, on the same samples. Holds the bars of explosive efforts at
 * 1,000 Hz in noise of 0.5 N and the tables of {@code docs/detection.md}; run with {@code -Dheldmark.regenerate=true} to
 * write them there.
 */
class OnsetMethodsTest {
    private static final String BEGIN = "<!-- methods: made by OnsetMethodsTest -->\n";
    private static final String END = "<!-- end of methods -->";
    private static final double NOISE_N = 0.5;
    private static final double[] RATES_HZ = {100, 500, 1000};
    private static final double[] NOISES_N = {0.2, 1, 5};
    private static final int SEEDS = 4;

    private static final Map<String, OnsetMethods> SHAPES = new LinkedHashMap<>();
    private static final Map<String, OnsetMethods> GRID = new LinkedHashMap<>();
    private static final OnsetMethods ALL = new OnsetMethods();

    @BeforeAll
    static void run() {
        for (String kind : EvidenceScenes.EFFORTS.subList(0, EvidenceScenes.SHAPES.length)) {
            OnsetMethods shape = SHAPES.computeIfAbsent(kind, name -> new OnsetMethods());
            for (int seed = 0; seed < SEEDS; seed++) {
                InventedTrace trace = EvidenceScenes.efforts(kind, 1000, NOISE_N, DetectionEvidence.SEED + seed);
                shape.add(trace);
                ALL.add(trace);
            }
            for (double rate : RATES_HZ) {
                for (double noise : NOISES_N) {
                    GRID.computeIfAbsent(DetectionEvidence.cell(rate, noise), name -> new OnsetMethods())
                            .add(EvidenceScenes.efforts(kind, rate, noise, DetectionEvidence.SEED));
                }
            }
        }
    }

    @Test
    void shouldPlaceExplosiveOnsetsWithinTheBars() {
        OnsetMethods.Errors every = ALL.of(OnsetMethods.OURS);
        assertTrue(every.ms.size() >= 0.995 * ALL.truth && ALL.truth > 350, every.ms.size() + " of " + ALL.truth);
        OnsetMethods.Errors ours = ALL.of(OnsetMethods.UNFLAGGED);
        assertTrue(ours.ms.size() >= 0.9 * ALL.truth, "flagged: " + every.flagged);
        assertTrue(ours.medianAbsolute() <= 1.5, "median absolute error: " + ours.medianAbsolute());
        assertTrue(ours.within95() <= 6, "95 % within: " + ours.within95());
        assertEquals(0, ours.bias(), 1, "median error");
        assertEquals(0, ours.mean(), 1, "mean error");
        assertTrue(
                every.medianAbsolute() <= 1.5 && Math.abs(every.bias()) <= 1 && every.within95() <= 8, "with flagged");
    }

    @Test
    void shouldBeNearerThanEveryThresholdOnEveryShape() {
        SHAPES.forEach((kind, shape) -> {
            for (String method : OnsetMethods.THRESHOLDS) {
                assertTrue(
                        shape.of(OnsetMethods.OURS).medianAbsolute()
                                < shape.of(method).medianAbsolute(),
                        kind + ", " + method);
            }
        });
    }

    /** The detection's rule for a ramp is 1.4 of its peak per second; every ramp of the scenes is slower. */
    @Test
    void shouldSayOfEveryRampThatItsOnsetMeansLittle() {
        OnsetMethods ramps = new OnsetMethods();
        for (int seed = 0; seed < SEEDS; seed++) {
            ramps.add(EvidenceScenes.efforts("ramp", 1000, NOISE_N, DetectionEvidence.SEED + seed));
        }
        OnsetMethods.Errors ours = ramps.of(OnsetMethods.OURS);
        assertTrue(ours.ms.size() > 30 && ours.ms.size() >= 0.995 * ramps.truth);
        assertEquals(ours.ms.size(), ours.flagged);
    }

    @Test
    void shouldHoldThePageAndTheTablesTogether() throws IOException {
        Path page = Path.of(System.getProperty("heldmark.root", "../.."), "docs", "detection.md");
        String text = Files.readString(page);
        int from = text.indexOf(BEGIN) + BEGIN.length();
        int to = text.indexOf(END);
        String whole = text.substring(0, from) + markdown() + text.substring(to);
        if (Boolean.getBoolean("heldmark.regenerate")) {
            Files.writeString(page, whole);
        }
        assertEquals(whole, Files.readString(page), "regenerate: the command stands in the page");
    }

    private static String markdown() {
        StringBuilder out = new StringBuilder();
        out.append(String.format(
                Locale.ROOT,
                "Explosive efforts of 1.5 to 12 times their peak per second at 1,000 Hz in noise of %.1f N: median absolute"
                        + " error / median (mean) error [2.5 %%, 97.5 %%], in milliseconds, found less true.\n\n",
                NOISE_N));
        List<String> methods = List.copyOf(ALL.byMethod.keySet());
        out.append("| rise | efforts | true within 2 u | ")
                .append(String.join(" | ", methods))
                .append(" |\n|---|---|---|")
                .append("---|".repeat(methods.size()))
                .append('\n');
        SHAPES.forEach((kind, shape) -> row(out, kind.replace("explosive, ", ""), shape));
        row(out, "all", ALL);
        OnsetMethods.Errors ours = ALL.of(OnsetMethods.OURS);
        out.append(String.format(
                Locale.ROOT,
                "\nOf all %d efforts 95 %% of the station's onsets are within %.1f ms, of the %d that are not flagged"
                        + " `onset-uncertain` or `slow-rise` within %.1f ms; mean errors %.2f and %.2f ms. Bars: median"
                        + " absolute error 1.5 ms and median error within 1 ms for all; 95 %% within 6 ms for what is not"
                        + " flagged, within 8 ms for all. Some shapes are harder than others: within 2 u says which, and"
                        + " what begins with the third power of time is found late by more than is stated.\n",
                ours.ms.size(),
                ours.within95(),
                ours.ms.size() - ours.flagged,
                ALL.of(OnsetMethods.UNFLAGGED).within95(),
                ours.mean(),
                ALL.of(OnsetMethods.UNFLAGGED).mean()));
        out.append("\nThe same shapes over rates and noises, 95 % of the station's onsets / of those by 5 SD within, in"
                + " milliseconds.\n\n| rate | 0.2 N | 1 N | 5 N |\n|---|---|---|---|\n");
        for (double rate : RATES_HZ) {
            out.append(String.format(Locale.ROOT, "| %.0f Hz |", rate));
            for (double noise : NOISES_N) {
                OnsetMethods cell = GRID.get(DetectionEvidence.cell(rate, noise));
                out.append(String.format(
                        Locale.ROOT,
                        " %.0f / %.0f |",
                        cell.of(OnsetMethods.OURS).within95(),
                        cell.of("5 SD").within95()));
            }
            out.append('\n');
        }
        return out.toString();
    }

    private static void row(StringBuilder out, String name, OnsetMethods of) {
        OnsetMethods.Errors ours = of.of(OnsetMethods.OURS);
        out.append(String.format(
                Locale.ROOT, "| %s | %d | %.0f %%", name, of.truth, 100.0 * ours.covered / ours.ms.size()));
        of.byMethod.values().forEach(errors -> out.append(" | ").append(errors.text()));
        out.append(" |\n");
    }
}

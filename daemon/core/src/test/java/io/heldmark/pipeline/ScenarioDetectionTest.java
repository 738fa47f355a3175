package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.truth.ContractionTruth;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * The bundled scenarios through protocol, alignment, calibration, zero, detection and metrics, judged against the truth that
 * the simulators write. Here noise flickers, clocks drift, packets are late; the grid of rates and noises stands in {@code
 * DetectionEvidenceTest}.
 */
class ScenarioDetectionTest {
    private static final Path SCENARIOS =
            Path.of(System.getProperty("heldmark.root", "../.."), "simulators", "scenarios");

    /** What the station found, and how it compares with the truth. */
    private static final class Found implements StationListener {
        List<ChannelInfo> channels = List.of();
        final Map<Integer, Double> zerosN = new HashMap<>();
        final List<Contraction> finals = new ArrayList<>();
        final List<Contraction> withdrawn = new ArrayList<>();
        final List<Effort> efforts = new ArrayList<>();
        final List<Double> onsetMs = new ArrayList<>();
        final List<Double> releaseMs = new ArrayList<>();
        final List<Double> offsetMs = new ArrayList<>();
        final List<Double> peakErrors = new ArrayList<>();
        final List<Double> impulsePercent = new ArrayList<>();
        int releasesCovered;
        int offsetsCovered;
        int truth;
        int matched;

        @Override
        public void onContraction(Contraction contraction) {
            if (contraction.revision() == Revision.FINAL) {
                finals.add(contraction);
            } else if (contraction.revision() == Revision.WITHDRAWN) {
                withdrawn.add(contraction);
            }
        }

        @Override
        public void onChannels(List<ChannelInfo> all, List<TraceFilter> traceFilters, long atNs) {
            channels = all;
        }

        @Override
        public void onZero(ZeroState zero) {
            zerosN.put(zero.channel(), zero.zeroN());
        }

        @Override
        public void onEffort(Effort effort) {
            efforts.add(effort);
        }

        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "true %d, matched %d, found %d, withdrawn %d, efforts %d; onset %s ms, release %s ms (%d within 2 u), offset %s ms (%d within 2 u), peak %s N, impulse %s %%",
                    truth,
                    matched,
                    finals.size(),
                    withdrawn.size(),
                    efforts.size(),
                    triple(onsetMs),
                    triple(releaseMs),
                    releasesCovered,
                    triple(offsetMs),
                    offsetsCovered,
                    triple(peakErrors),
                    triple(impulsePercent));
        }
    }

    private static Found run(String scenario, double untilS) {
        Found found = new Found();
        VirtualSession session = new VirtualSession(SCENARIOS.resolve(scenario + ".yaml"), found, null);
        session.run(untilS);
        for (ChannelInfo channel : found.channels) {
            int cell = Integer.parseInt(channel.link().replaceAll("\\D", ""));
            VirtualCell source = session.cells.get(cell);
            compare(found, source.truth().contractions(channel.deviceChannel()), channel.channel());
        }
        System.out.println(scenario + ": " + found);
        return found;
    }

    private static void compare(Found found, List<ContractionTruth> truths, int channel) {
        Set<Long> used = new HashSet<>();
        for (ContractionTruth truth : truths) {
            // The zero is asked for after one second and needs another; an effort that is not over has no end to find.
            if (!truth.complete() || truth.peakN() - truth.restingLevelN() < 20) {
                continue;
            }
            found.truth++;
            for (Contraction c : found.finals) {
                if (c.channel() == channel && overlap(truth, c) >= 0.5 && used.add(c.id())) {
                    found.matched++;
                    score(found, truth, c);
                    break;
                }
            }
        }
    }

    private static double overlap(ContractionTruth t, Contraction c) {
        double onset = c.onsetNs() * 1e-9;
        double offset = c.offsetNs() * 1e-9;
        double common = Math.min(t.offsetS(), offset) - Math.max(t.onsetS(), onset);
        return common / (Math.max(t.offsetS(), offset) - Math.min(t.onsetS(), onset));
    }

    private static void score(Found found, ContractionTruth truth, Contraction c) {
        found.onsetMs.add((c.onsetNs() * 1e-9 - truth.onsetS()) * 1e3);
        found.releaseMs.add((c.releaseStartNs() * 1e-9 - truth.releaseStartS()) * 1e3);
        found.offsetMs.add((c.offsetNs() * 1e-9 - truth.offsetS()) * 1e3);
        double releaseU = c.releaseStartStandardUncertaintyNs() * 1e-6;
        double offsetU = c.offsetStandardUncertaintyNs() * 1e-6;
        found.releasesCovered += Math.abs(found.releaseMs.get(found.releaseMs.size() - 1)) <= 2 * releaseU ? 1 : 0;
        found.offsetsCovered += Math.abs(found.offsetMs.get(found.offsetMs.size() - 1)) <= 2 * offsetU ? 1 : 0;
        MetricValue peak = metric(c, "force.peak");
        if (peak.quantity() != null) {
            double wholeN = peak.quantity().value() + found.zerosN.get(c.channel());
            found.peakErrors.add(wholeN - truth.peakMean100msN());
        }
        MetricValue impulse = metric(c, "impulse.total");
        if (impulse.quantity() != null) {
            found.impulsePercent.add(100 * (impulse.quantity().value() / truth.impulseNs() - 1));
        }
    }

    private static MetricValue metric(Contraction c, String id) {
        return c.metrics().stream().filter(m -> m.id().equals(id)).findFirst().orElseThrow();
    }

    private static double quantile(List<Double> values, double p) {
        List<Double> sorted = new ArrayList<>(values);
        Collections.sort(sorted);
        return sorted.isEmpty() ? Double.NaN : sorted.get((int) Math.min(sorted.size() - 1, p * sorted.size()));
    }

    private static String triple(List<Double> v) {
        return String.format(
                Locale.ROOT, "%.1f [%.1f, %.1f]", quantile(v, 0.5), quantile(v, 0.025), quantile(v, 0.975));
    }

    private static void assertAllFound(Found found) {
        assertTrue(found.truth > 0);
        assertTrue(found.matched >= 0.995 * found.truth, found.toString());
        assertTrue(found.matched >= 0.995 * found.finals.size(), found.toString());
    }

    @Test
    void shouldFindExplosiveEfforts() {
        Found found = run("explosive", 180);
        assertAllFound(found);
        assertEquals(0, quantile(found.onsetMs, 0.5), 5);
        assertEquals(0, quantile(found.releaseMs, 0.5), 20);
        assertEquals(0, quantile(found.offsetMs, 0.5), 1);
        assertTrue(found.offsetsCovered >= 0.9 * found.matched, found.toString());
        assertTrue(found.releasesCovered >= 0.8 * found.matched, found.toString());
        assertEquals(0, quantile(found.peakErrors, 0.5), 0.1);
        assertEquals(0, quantile(found.impulsePercent, 0.5), 0.5);
        assertEquals(found.truth / 2, found.efforts.size(), "every effort is made by both limbs");
    }

    @Test
    void shouldFindRampsOverARadioLink() {
        Found found = run("ramps", 240);
        assertAllFound(found);
        // A ramp begins as a parabola: the first half newton takes 30 ms; and the radio's delay is not seen one way.
        assertEquals(0, quantile(found.onsetMs, 0.5), 40);
        assertEquals(0, quantile(found.releaseMs, 0.5), 20);
        assertTrue(found.offsetsCovered >= 0.6 * found.matched, found.toString());
        assertEquals(0, quantile(found.peakErrors, 0.5), 0.1);
    }

    @Test
    void shouldFindLoweringsAgainstTheirWeight() {
        assertAllFound(run("eccentric-lower", 150));
    }

    @Test
    void shouldKeepNothingOfAQuietSession() {
        Found found = run("quiet", 300);
        assertEquals(0, found.truth);
        assertEquals(0, found.finals.size(), found.toString());
    }
}

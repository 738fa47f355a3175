package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.simulator.truth.CellTruth;
import io.heldmark.simulator.truth.ContractionTruth;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * Contractions that a station found among faults against the true ones of one channel.
 *
 * <p><b>Rule.</b> (1) A true contraction that no long damage touches is found exactly once, with at least half of its length
 * in common, and its onset within {@value #ONSET_LIMIT_S} s, plus what is missing about the onset. (2) Nothing is found that
 * is no contraction. (3) What long damage touches may be found in pieces or not at all; each piece says what happened to it.
 * Long damage is a broken link, a reboot, a jump of the clock, a fault of the converter or samples lost for more than
 * {@value #LONG_S} s. Damage is always that of the cell itself.
 */
final class FaultJudge {
    /** Largest error of an onset where nothing is missing, in seconds: gentle rises of the scenario pass 5 N after 20 ms. */
    static final double ONSET_LIMIT_S = 0.035;
    /** The stretch behind an onset from which it is worked out, in seconds. */
    static final double RISE_S = 0.1;
    /** Samples missing for longer than this are a damaged span, in seconds. */
    static final double LONG_S = 0.1;
    /** A contraction nearer than this to a damaged span is touched by it, in seconds. */
    private static final double MARGIN_S = 0.3;
    /** After a break the station asks who is there and says start; either may be lost and is said again, in seconds. */
    private static final double RETURN_S = 1.5;

    private static final Set<String> EXCUSES = Set.of(
            ContractionFlag.GAP_INSIDE.id(),
            ContractionFlag.ONSET_NOT_SEEN.id(),
            ContractionFlag.SAMPLES_LOST.id(),
            ContractionFlag.ADC_FAULT.id(),
            ContractionFlag.CLOCK_RESTARTED.id());

    private final List<String> misses = new ArrayList<>();
    private final List<Double> onsetErrorsS = new ArrayList<>();
    private int clean;
    private int touched;

    private record Span(double fromS, double toS) {
        boolean meets(double otherFromS, double otherToS) {
            return fromS <= otherToS && toS >= otherFromS;
        }
    }

    /** Returns what is not as it must be. */
    List<String> misses() {
        return List.copyOf(misses);
    }

    /** Returns the true contractions that were judged as whole. */
    int clean() {
        return clean;
    }

    @Override
    public String toString() {
        double worstS = onsetErrorsS.stream().mapToDouble(Math::abs).max().orElse(Double.NaN);
        double meanS = onsetErrorsS.stream().mapToDouble(Math::abs).average().orElse(Double.NaN);
        return String.format(
                Locale.ROOT,
                "%d whole contractions, %d touched by damage, onset error mean %.1f ms, worst %.1f ms",
                clean,
                touched,
                1e3 * meanS,
                1e3 * worstS);
    }

    /** Judges one channel. */
    void judge(CellTruth truth, ChannelInfo channel, List<Contraction> finals, double untilS) {
        List<Span> damaged = damagedSpans(truth);
        List<Span> gaps = gaps(truth);
        List<ContractionTruth> truths = truth.contractions(channel.deviceChannel()).stream()
                .filter(t -> t.complete() && t.offsetS() < untilS - 1)
                .toList();
        List<Contraction> found =
                finals.stream().filter(c -> c.channel() == channel.channel()).toList();
        Map<ContractionTruth, List<Contraction>> parts = new HashMap<>();
        for (Contraction c : found) {
            attribute(c, truths, parts, truth.cell());
        }
        for (ContractionTruth t : truths) {
            List<Contraction> own = parts.getOrDefault(t, List.of());
            if (damaged.stream().anyMatch(d -> d.meets(t.onsetS() - MARGIN_S, t.offsetS() + MARGIN_S))) {
                touched++;
                own.forEach(c -> judgeTouched(t, c, truth.cell()));
            } else {
                clean++;
                judgeWhole(t, own, gaps, truth.cell());
            }
        }
    }

    private void attribute(
            Contraction c, List<ContractionTruth> truths, Map<ContractionTruth, List<Contraction>> parts, String cell) {
        for (ContractionTruth t : truths) {
            if (onsetS(c) < t.offsetS() && offsetS(c) > t.onsetS()) {
                parts.computeIfAbsent(t, key -> new ArrayList<>()).add(c);
                return;
            }
        }
        if (truths.isEmpty() || onsetS(c) < truths.get(truths.size() - 1).offsetS()) {
            misses.add(String.format(Locale.ROOT, "cell %s: nobody pulled at %.2f s: %s", cell, onsetS(c), c.flags()));
        }
    }

    private void judgeWhole(ContractionTruth t, List<Contraction> own, List<Span> gaps, String cell) {
        String name =
                String.format(Locale.ROOT, "cell %s: contraction of %.2f to %.2f s", cell, t.onsetS(), t.offsetS());
        if (own.size() != 1) {
            misses.add(name + " found " + own.size() + " times");
            return;
        }
        Contraction c = own.get(0);
        double common = Math.min(t.offsetS(), offsetS(c)) - Math.max(t.onsetS(), onsetS(c));
        double all = Math.max(t.offsetS(), offsetS(c)) - Math.min(t.onsetS(), onsetS(c));
        double errorS = onsetS(c) - t.onsetS();
        onsetErrorsS.add(errorS);
        double missingS = gaps.stream()
                .filter(g -> g.meets(t.onsetS() - ONSET_LIMIT_S, t.onsetS() + RISE_S))
                .mapToDouble(g -> g.toS() - g.fromS())
                .sum();
        if (common < 0.5 * all || Math.abs(errorS) > ONSET_LIMIT_S + missingS) {
            misses.add(name
                    + String.format(
                            Locale.ROOT,
                            " found as %.3f to %.3f s, stated uncertainty of the onset %.1f ms, %s",
                            onsetS(c),
                            offsetS(c),
                            c.onsetStandardUncertaintyNs() * 1e-6,
                            c.flags()));
        }
        boolean gap = gaps.stream().anyMatch(g -> g.meets(onsetS(c) + 0.02, offsetS(c) - 0.02));
        if (gap && !c.flags().contains(ContractionFlag.GAP_INSIDE.id())) {
            misses.add(name + " has samples missing and does not say so: " + c.flags());
        }
    }

    private void judgeTouched(ContractionTruth t, Contraction c, String cell) {
        boolean whole =
                Math.abs(onsetS(c) - t.onsetS()) < 2 * ONSET_LIMIT_S && Math.abs(offsetS(c) - t.offsetS()) < 0.2;
        if (!whole && c.flags().stream().noneMatch(EXCUSES::contains)) {
            misses.add(String.format(
                    Locale.ROOT, "cell %s: a piece at %.2f s does not say why: %s", cell, onsetS(c), c.flags()));
        }
    }

    private static List<Span> damagedSpans(CellTruth truth) {
        List<Span> spans = new ArrayList<>();
        for (DamageTruth d : truth.damage()) {
            switch (d.kind()) {
                case "disconnect", "reboot" -> spans.add(new Span(d.fromS(), d.toS() + RETURN_S));
                case "clock-step", "adc-fault" -> spans.add(new Span(d.fromS(), d.toS()));
                default -> {
                    // Short, unless more of its kind follow.
                }
            }
        }
        gaps(truth).stream().filter(g -> g.toS() - g.fromS() > LONG_S).forEach(spans::add);
        return spans;
    }

    /** Stretches without samples, joined where they touch. */
    private static List<Span> gaps(CellTruth truth) {
        List<Span> all = new ArrayList<>(truth.damage().stream()
                .filter(d -> d.lostSamples() > 0 && !d.kind().equals("adc-fault"))
                .map(d -> new Span(d.fromS(), d.toS()))
                .toList());
        all.sort((a, b) -> Double.compare(a.fromS(), b.fromS()));
        List<Span> joined = new ArrayList<>();
        for (Span s : all) {
            Span last = joined.isEmpty() ? null : joined.get(joined.size() - 1);
            if (last != null && s.fromS() - last.toS() < 0.002) {
                joined.set(joined.size() - 1, new Span(last.fromS(), Math.max(last.toS(), s.toS())));
            } else {
                joined.add(s);
            }
        }
        return joined;
    }

    private static double onsetS(Contraction c) {
        return c.onsetNs() * 1e-9;
    }

    private static double offsetS(Contraction c) {
        return c.offsetNs() * 1e-9;
    }
}

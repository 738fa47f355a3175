package io.heldmark.detect;

import io.heldmark.model.Contraction;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/** Runs the detector over all scenes and keeps what the tables and the bars of {@link DetectionEvidenceTest} need. */
final class DetectionEvidence {
    /** Seed of the judged traces; other seeds served for the development. */
    static final long SEED = 20_261;

    static final double[] RATES_HZ = {80, 100, 500, 1000, 2000};
    static final double[] NOISES_N = {0.2, 1, 2, 5};

    /** One kind of effort over all rates and noises. */
    static final class Kind {
        int truth;
        int matched;
        int found;
        int withdrawn;
        int flagged;
        int covered;
        final List<Double> onsetMs = new ArrayList<>();
        final List<Double> releaseMs = new ArrayList<>();
        final List<Double> offsetMs = new ArrayList<>();
    }

    /** Opening latencies of one rate and noise, over the kinds without hum and pre-tension. */
    static final class Cell {
        int matched;
        int covered;
        final List<Double> explosiveMs = new ArrayList<>();
        final List<Double> rampMs = new ArrayList<>();
    }

    /** One kind of trace without an effort, one noise. */
    static final class Quiet {
        double minutes;
        int kept;
        int opened;
    }

    final Map<String, Kind> kinds = new LinkedHashMap<>();
    final Map<String, Cell> cells = new LinkedHashMap<>();
    final Map<String, Quiet> quiets = new LinkedHashMap<>();

    static String cell(double rateHz, double noiseN) {
        return String.format(Locale.ROOT, "%.0f/%.1f", rateHz, noiseN);
    }

    static DetectionEvidence gather() {
        DetectionEvidence evidence = new DetectionEvidence();
        for (String kind : EvidenceScenes.EFFORTS) {
            for (double rate : RATES_HZ) {
                for (double noise : NOISES_N) {
                    evidence.efforts(kind, EvidenceScenes.efforts(kind, rate, noise, SEED));
                }
            }
        }
        for (double rate : RATES_HZ) {
            for (double noise : NOISES_N) {
                for (String kind : EvidenceScenes.QUIET) {
                    evidence.quiet(kind, EvidenceScenes.quiet(kind, rate, noise, SEED));
                }
                for (String kind : EvidenceScenes.HANDLING) {
                    evidence.quiet(kind, EvidenceScenes.handling(kind, rate, noise, SEED));
                }
            }
        }
        return evidence;
    }

    /** Returns a quantile: the value at index floor(p n) of the sorted ones. */
    static double quantile(List<Double> values, double p) {
        if (values.isEmpty()) {
            return Double.NaN;
        }
        List<Double> sorted = new ArrayList<>(values);
        Collections.sort(sorted);
        return sorted.get((int) Math.min(sorted.size() - 1, Math.floor(p * sorted.size())));
    }

    private void efforts(String name, InventedTrace trace) {
        DetectorRun run = DetectorRun.of(trace);
        Kind kind = kinds.computeIfAbsent(name, k -> new Kind());
        Cell cell = cells.computeIfAbsent(cell(trace.rateHz, trace.noiseN), k -> new Cell());
        kind.found += run.closed.size();
        kind.withdrawn += run.withdrawn.size();
        Set<Long> used = new HashSet<>();
        for (InventedEffort effort : trace.efforts) {
            kind.truth++;
            Contraction c = DetectorRun.match(effort, run.closed);
            if (c == null || !used.add(c.id())) {
                continue;
            }
            kind.matched++;
            double onsetMs = (c.onsetNs() * 1e-9 - effort.onsetS()) * 1e3;
            kind.onsetMs.add(onsetMs);
            int covered = Math.abs(onsetMs) * 1e6 <= 2 * c.onsetStandardUncertaintyNs() ? 1 : 0;
            kind.covered += covered;
            cell.covered += covered;
            cell.matched++;
            kind.releaseMs.add((c.releaseStartNs() * 1e-9 - effort.releaseStartS()) * 1e3);
            kind.offsetMs.add((c.offsetNs() * 1e-9 - effort.offsetS()) * 1e3);
            kind.flagged += c.flags().contains("pre-tension") || c.flags().contains("double-effort") ? 1 : 0;
            if (trace.humN == 0 && effort.preTensionS() == 0) {
                latency(cell, effort, run.openingOf(c).atS(), trace.noiseN);
            }
        }
    }

    /** Explosive: 200 N/s or more over the first 50 ms, counted from the onset; else from crossing max(5 SD, 5 N). */
    private static void latency(Cell cell, InventedEffort effort, double openedS, double noiseN) {
        if (effort.slope50NPerS() >= 200) {
            cell.explosiveMs.add((openedS - effort.onsetS()) * 1e3);
        } else {
            cell.rampMs.add((openedS - effort.crossingS(Math.max(5, 5 * noiseN))) * 1e3);
        }
    }

    private void quiet(String kind, InventedTrace trace) {
        DetectorRun run = DetectorRun.of(trace);
        String key = String.format(Locale.ROOT, "%s/%.1f", kind, trace.noiseN);
        Quiet quiet = quiets.computeIfAbsent(key, k -> new Quiet());
        quiet.minutes += trace.lengthS / 60;
        quiet.kept += run.closed.size();
        quiet.opened += run.opened.size();
    }

    /** Returns the tables as Markdown. */
    String markdown() {
        StringBuilder out = new StringBuilder();
        out.append(
                "Efforts at 80, 100, 500, 1,000 and 2,000 Hz, each with white noise of 0.2, 1, 2 and 5 N SD. Errors are"
                        + " found less true, in milliseconds: median [2.5 %, 97.5 %].\n\n");
        out.append(
                "| effort | true | matched | found | withdrawn | onset | true onset within 2 u | release start | offset"
                        + " |\n|---|---|---|---|---|---|---|---|---|\n");
        kinds.forEach((name, k) -> out.append(String.format(
                Locale.ROOT,
                "| %s | %d | %d | %d | %d | %s | %.0f %% | %s | %s |\n",
                name,
                k.truth,
                k.matched,
                k.found,
                k.withdrawn,
                triple(k.onsetMs),
                100.0 * k.covered / Math.max(1, k.matched),
                triple(k.releaseMs),
                triple(k.offsetMs))));
        appendCells(out);
        out.append(
                "\nOpening latency, 95th percentile in milliseconds: explosive from the true onset / ramps from crossing"
                        + " max(5 SD, 5 N).\n\n| rate | 0.2 N | 1 N | 2 N | 5 N |\n|---|---|---|---|---|\n");
        for (double rate : RATES_HZ) {
            out.append(String.format(Locale.ROOT, "| %.0f Hz |", rate));
            for (double noise : NOISES_N) {
                Cell c = cells.get(cell(rate, noise));
                out.append(String.format(
                        Locale.ROOT, " %.0f / %.0f |", quantile(c.explosiveMs, 0.95), quantile(c.rampMs, 0.95)));
            }
            out.append('\n');
        }
        appendQuiet(out);
        return out.toString();
    }

    private void appendCells(StringBuilder out) {
        out.append(
                "\nTrue onsets within two stated standard uncertainties, over all kinds.\n\n| rate | 0.2 N | 1 N | 2 N | 5 N"
                        + " |\n|---|---|---|---|---|\n");
        for (double rate : RATES_HZ) {
            out.append(String.format(Locale.ROOT, "| %.0f Hz |", rate));
            for (double noise : NOISES_N) {
                Cell c = cells.get(cell(rate, noise));
                out.append(String.format(Locale.ROOT, " %.0f %% |", 100.0 * c.covered / Math.max(1, c.matched)));
            }
            out.append('\n');
        }
    }

    private void appendQuiet(StringBuilder out) {
        out.append(
                "\nTraces without an effort: windows kept (live openings that were taken back) in five minutes, one at"
                        + " each rate.\n\n| trace | 0.2 N | 1 N | 2 N | 5 N |\n|---|---|---|---|---|\n");
        List<String> names = new ArrayList<>(EvidenceScenes.QUIET);
        names.addAll(EvidenceScenes.HANDLING);
        for (String name : names) {
            out.append("| ").append(name).append(" |");
            for (double noise : NOISES_N) {
                Quiet q = quiets.get(String.format(Locale.ROOT, "%s/%.1f", name, noise));
                out.append(String.format(Locale.ROOT, " %d (%d) |", q.kept, q.opened - q.kept));
            }
            out.append('\n');
        }
    }

    private static String triple(List<Double> v) {
        return String.format(
                Locale.ROOT, "%.1f [%.1f, %.1f]", quantile(v, 0.5), quantile(v, 0.025), quantile(v, 0.975));
    }
}

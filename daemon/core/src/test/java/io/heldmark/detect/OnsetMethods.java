package io.heldmark.detect;

import io.heldmark.model.Contraction;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Onsets by the methods people use, beside the detector's, on the same samples.
 *
 * <p>The thresholds are given what a person would give them at best: the rest is the 200 ms that end 100 ms before the true
 * onset, and the onset is the first sample from which the force stays above the threshold until it passes 30 % of the
 * peak. A fixed threshold, 3 SD and 5 SD of rest and 2.5 % of the peak are common practice (5 SD: Dos'Santos et al. 2017, J
 * Strength Cond Res 31:3463-3473).
 */
final class OnsetMethods {
    static final String OURS = "the station";
    /** The same without those of which the contraction itself says that the onset means little. */
    static final String UNFLAGGED = "the station, not flagged";

    static final List<String> THRESHOLDS = List.of("5 N", "3 SD", "5 SD", "2.5 % of peak");

    /** Errors of one method, found less true, in milliseconds. */
    static final class Errors {
        final List<Double> ms = new ArrayList<>();
        int flagged;
        int covered;

        double bias() {
            return DetectionEvidence.quantile(ms, 0.5);
        }

        double mean() {
            return ms.stream().mapToDouble(Double::doubleValue).average().orElse(Double.NaN);
        }

        double medianAbsolute() {
            return quantileAbsolute(0.5);
        }

        double within95() {
            return quantileAbsolute(0.95);
        }

        private double quantileAbsolute(double p) {
            return DetectionEvidence.quantile(ms.stream().map(Math::abs).toList(), p);
        }

        String text() {
            return String.format(
                    Locale.ROOT,
                    "%.1f / %.1f (%.1f) [%.1f, %.1f]",
                    medianAbsolute(),
                    bias(),
                    mean(),
                    DetectionEvidence.quantile(ms, 0.025),
                    DetectionEvidence.quantile(ms, 0.975));
        }
    }

    final Map<String, Errors> byMethod = new LinkedHashMap<>();
    int truth;

    OnsetMethods() {
        byMethod.put(OURS, new Errors());
        byMethod.put(UNFLAGGED, new Errors());
        THRESHOLDS.forEach(name -> byMethod.put(name, new Errors()));
    }

    Errors of(String method) {
        Errors errors = byMethod.get(method);
        if (errors == null) {
            throw new IllegalArgumentException(method);
        }
        return errors;
    }

    /** Takes every effort of a trace that the detector found. */
    OnsetMethods add(InventedTrace trace) {
        DetectorRun run = DetectorRun.of(trace);
        Samples samples = new Samples(trace);
        for (InventedEffort effort : trace.efforts) {
            truth++;
            Contraction c = DetectorRun.match(effort, run.closed);
            if (c == null) {
                continue;
            }
            note(OURS, effort, c.onsetNs() * 1e-9);
            double apartNs = Math.abs(c.onsetNs() - effort.onsetS() * 1e9);
            of(OURS).covered += apartNs <= 2 * c.onsetStandardUncertaintyNs() ? 1 : 0;
            if (c.flags().contains("onset-uncertain") || c.flags().contains("slow-rise")) {
                of(OURS).flagged++;
            } else {
                note(UNFLAGGED, effort, c.onsetNs() * 1e-9);
            }
            thresholds(samples, effort);
        }
        return this;
    }

    private void thresholds(Samples s, InventedEffort effort) {
        int restEnd = s.indexOf(effort.onsetS() - 0.1);
        int restStart = s.indexOf(effort.onsetS() - 0.3);
        double mean = 0;
        for (int i = restStart; i < restEnd; i++) {
            mean += s.forceN[i] / (restEnd - restStart);
        }
        double squares = 0;
        for (int i = restStart; i < restEnd; i++) {
            squares += (s.forceN[i] - mean) * (s.forceN[i] - mean);
        }
        double sd = Math.sqrt(squares / (restEnd - restStart - 1));
        double height = effort.heightN();
        int past = restEnd;
        while (s.forceN[past] - mean < 0.3 * height) {
            past++;
        }
        note("5 N", effort, s.crossing(past, restEnd, mean + 5));
        note("3 SD", effort, s.crossing(past, restEnd, mean + 3 * sd));
        note("5 SD", effort, s.crossing(past, restEnd, mean + 5 * sd));
        note("2.5 % of peak", effort, s.crossing(past, restEnd, mean + 0.025 * height));
    }

    private void note(String method, InventedEffort effort, double foundS) {
        of(method).ms.add((foundS - effort.onsetS()) * 1e3);
    }

    /** The samples of a trace, kept. */
    private static final class Samples {
        final double[] timeS;
        final double[] forceN;
        private int n;

        Samples(InventedTrace trace) {
            int most = (int) Math.ceil(trace.lengthS * trace.rateHz) + 1;
            timeS = new double[most];
            forceN = new double[most];
            trace.feed(batch -> {
                for (int i = 0; i < batch.count; i++) {
                    timeS[n] = batch.timeNs[i] * 1e-9;
                    forceN[n++] = batch.forceN[i];
                }
            });
        }

        int indexOf(double s) {
            int i = 0;
            while (i < n - 1 && timeS[i] < s) {
                i++;
            }
            return i;
        }

        /** The first sample from which the force stays above a level until a sample that is past it. */
        double crossing(int past, int notBefore, double levelN) {
            int i = past;
            while (i > notBefore && forceN[i - 1] > levelN) {
                i--;
            }
            return timeS[i];
        }
    }
}

package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Repeatability, reproducibility, reversibility, interpolation and zero error of each load, in the terms of ISO 376.
 *
 * <p><b>Deflection.</b> X = counts - the same run's zero before; the curve's value at zero stands in where a run has none. Xa =
 * f(F) - the mean of the runs' zeros.
 *
 * <p><b>Formulas,</b> in per cent:
 *
 * <pre>repeatability   b' = 100 (max - min) / |mean|   of increasing X within a mounting, the worst mounting
 * reproducibility b  = 100 (max - min) / |mean|   of the first increasing X of each mounting
 * reversibility   v  = 100 mean of |X' - X| / |X|  X' decreasing, X increasing, of each run
 * interpolation   fc = 100 (mean X - Xa) / Xa      mean of increasing X
 * zero            f0 = 100 (zero after - zero before) / XN,  XN deflection at the run's greatest load</pre>
 *
 * For two series b' is 100 |X2 - X1| / mean. Where no mounting is named, all runs count as one.
 *
 * <p><b>Source.</b> ISO 376:2011, by a secondary source; v and the use of more than two series from memory. The terms are used
 * so that numbers can be compared. The procedure of the standard (rotations, preloads, times, temperatures, class of the
 * reference) is not checked, and no conformity follows from any of them.
 */
final class LoadStatistics {
    private static final String AT_ZERO = "at zero load there is no deflection to relate it to";

    private final List<Run> runs;
    private final CalibrationCurve curve;
    private final double zero;

    LoadStatistics(List<Run> runs, CalibrationCurve curve) {
        this.runs = runs;
        this.curve = curve;
        List<Double> zeros = runs.stream().map(this::zeroOf).toList();
        zero = Run.mean(zeros);
    }

    private double zeroOf(Run run) {
        return Double.isNaN(run.zeroBefore()) ? curve.counts(0) : run.zeroBefore();
    }

    private List<Double> deflections(Run run, double loadN, boolean increasing) {
        double own = zeroOf(run);
        return run.countsAt(loadN, increasing).stream().map(c -> c - own).toList();
    }

    Percent repeatability(double loadN) {
        if (loadN == 0) {
            return Percent.none(AT_ZERO);
        }
        double worst = Double.NaN;
        for (List<Double> mounting : increasingByMounting(loadN).values()) {
            double range = rangePercent(mounting);
            worst = worst > range || Double.isNaN(range) ? worst : range;
        }
        return Double.isNaN(worst)
                ? Percent.none("two readings with increasing load in one mounting are needed")
                : Percent.of(worst);
    }

    Percent reproducibility(double loadN) {
        if (loadN == 0) {
            return Percent.none(AT_ZERO);
        }
        List<Double> firsts = new ArrayList<>();
        increasingByMounting(loadN).values().forEach(mounting -> firsts.add(mounting.get(0)));
        double range = rangePercent(firsts);
        return Double.isNaN(range)
                ? Percent.none("readings with increasing load in two mountings are needed (column mounting)")
                : Percent.of(range);
    }

    private Map<String, List<Double>> increasingByMounting(double loadN) {
        Map<String, List<Double>> byMounting = new LinkedHashMap<>();
        for (Run run : runs) {
            List<Double> there = deflections(run, loadN, true);
            if (!there.isEmpty()) {
                byMounting
                        .computeIfAbsent(run.mounting(), m -> new ArrayList<>())
                        .addAll(there);
            }
        }
        return byMounting;
    }

    private static double rangePercent(List<Double> values) {
        if (values.size() < 2) {
            return Double.NaN;
        }
        return 100 * (Collections.max(values) - Collections.min(values)) / Math.abs(Run.mean(values));
    }

    Percent reversibility(double loadN) {
        if (loadN == 0) {
            return Percent.none(AT_ZERO);
        }
        List<Double> differences = new ArrayList<>();
        for (Run run : runs) {
            List<Double> up = deflections(run, loadN, true);
            List<Double> down = deflections(run, loadN, false);
            if (!up.isEmpty() && !down.isEmpty()) {
                differences.add(100 * Math.abs((Run.mean(down) - Run.mean(up)) / Run.mean(up)));
            }
        }
        return differences.isEmpty()
                ? Percent.none("an increasing and a decreasing reading in one run are needed")
                : Percent.of(Run.mean(differences));
    }

    Percent interpolationError(double loadN) {
        if (loadN == 0) {
            return Percent.none(AT_ZERO);
        }
        List<Double> increasing = new ArrayList<>();
        runs.forEach(run -> increasing.addAll(deflections(run, loadN, true)));
        if (increasing.isEmpty()) {
            return Percent.none("a reading with increasing load is needed");
        }
        double fitted = curve.counts(loadN) - zero;
        return Percent.of(100 * (Run.mean(increasing) - fitted) / fitted);
    }

    Percent zeroError(double loadN) {
        double worst = Double.NaN;
        for (Run run : runs) {
            double error = run.zeroErrorPercent();
            boolean holds = run.readings().stream().anyMatch(r -> r.appliedN() == loadN);
            if (holds && !Double.isNaN(error) && !(Math.abs(error) <= Math.abs(worst))) {
                worst = error;
            }
        }
        return Double.isNaN(worst)
                ? Percent.none("a zero before (direction up) and after (direction down) in one run are needed")
                : Percent.of(worst);
    }
}

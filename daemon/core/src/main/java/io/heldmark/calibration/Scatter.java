package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * What the readings' distances from the fitted curve say about the next reading.
 *
 * <p><b>Between runs.</b> The residuals e of each run (of each mounting, where several are named) are fitted by a line through
 * zero, d = sum F e / sum F^2: how much steeper the cell was this time. If these slopes differ by more than readings scatter
 * (F test at 5 %), their standard deviation sd(d) over R runs gives the next mounting's |F| sd(d) sqrt(1 + 1/R), with R - 1
 * degrees of freedom, and readings scatter by what is left. Else both are one scatter, the residual SD.
 *
 * <p><b>At one load.</b> Where the n readings of a load lie significantly farther from the curve (n m / s^2 over the 99 %
 * point of chi-square, m their mean square), as by hysteresis or by a curve of another shape, the root of m counts there.
 *
 * <p><b>Rounding.</b> Counts that are all whole never scatter by less than 1/sqrt(12) (GUM 4.3.7, F.2.2.1).
 *
 * <p><b>Source.</b> Analysis of variance; the two tests and their levels are the project's, no published source.
 */
final class Scatter {
    private static final double RUNS_DIFFER = 0.95;
    private static final double LOAD_DIFFERS = 0.99;
    private static final int LEAST_DEGREES = 3;

    private final double[] loadsN;
    private final double[] residuals;
    private final double floor;
    private double readingSd;
    private int degreesOfFreedom;
    private double runSd;
    private int runs;

    /**
     * Takes the readings and their fit.
     *
     * @param readings in the order of the fit's points.
     */
    Scatter(List<CalibrationReading> readings, PolynomialFit fit) {
        loadsN = readings.stream().mapToDouble(CalibrationReading::appliedN).toArray();
        residuals = new double[loadsN.length];
        for (int i = 0; i < residuals.length; i++) {
            residuals[i] = fit.residual(i);
        }
        floor = readings.stream().allMatch(r -> r.counts() == Math.rint(r.counts())) ? 1 / Math.sqrt(12) : 0;
        readingSd = fit.residualSd();
        degreesOfFreedom = fit.degreesOfFreedom();
        separateRuns(groups(readings));
        readingSd = Math.max(readingSd, floor);
    }

    /** Returns the indices of the readings of each mounting, or of each run where all are of one mounting. */
    private static List<List<Integer>> groups(List<CalibrationReading> readings) {
        boolean mounted =
                readings.stream().map(CalibrationReading::mounting).distinct().count() > 1;
        Map<String, List<Integer>> groups = new LinkedHashMap<>();
        int index = 0;
        for (Run run : Run.of(readings)) {
            groups.put(run.mounting() + "\n" + (mounted ? "" : run.name()), new ArrayList<>());
        }
        for (CalibrationReading r : readings) {
            String key = r.mounting() + "\n" + (mounted ? "" : r.run());
            groups.computeIfAbsent(key, k -> new ArrayList<>()).add(index++);
        }
        groups.values().removeIf(List::isEmpty);
        return List.copyOf(groups.values());
    }

    private void separateRuns(List<List<Integer>> groups) {
        int between = groups.size() - 1;
        int within = degreesOfFreedom - between;
        if (between < 1 || within < LEAST_DEGREES || readingSd == 0) {
            return;
        }
        double[] slopes = new double[groups.size()];
        double explained = 0;
        double squaredSlopes = 0;
        for (int g = 0; g < slopes.length; g++) {
            double loads = 0;
            double products = 0;
            for (int i : groups.get(g)) {
                loads += loadsN[i] * loadsN[i];
                products += loadsN[i] * residuals[i];
            }
            slopes[g] = loads > 0 ? products / loads : 0;
            explained += slopes[g] * products;
            squaredSlopes += slopes[g] * slopes[g];
        }
        double left = Math.max(0, readingSd * readingSd * degreesOfFreedom - explained) / within;
        double critical = FDistribution.of(between, within).inverseCumulativeProbability(RUNS_DIFFER);
        if (explained / between > critical * left) {
            runs = groups.size();
            runSd = Math.sqrt(squaredSlopes / between);
            readingSd = Math.sqrt(left);
            degreesOfFreedom = within;
            for (int g = 0; g < slopes.length; g++) {
                for (int i : groups.get(g)) {
                    residuals[i] -= slopes[g] * loadsN[i];
                }
            }
        }
    }

    /** Returns the standard deviation of one reading, in counts, what differs between runs left out. */
    double readingSd() {
        return readingSd;
    }

    /** Returns its degrees of freedom. */
    int degreesOfFreedom() {
        return degreesOfFreedom;
    }

    /** Returns what the next mounting adds to the uncertainty at a load, in counts; 0 where runs do not differ. */
    double nextMounting(double loadN) {
        return runs == 0 ? 0 : Math.abs(loadN) * runSd * Math.sqrt(1 + 1.0 / runs);
    }

    /** Returns the degrees of freedom of {@link #nextMounting}. */
    int mountingDegreesOfFreedom() {
        return runs - 1;
    }

    /** Returns the readings' root mean square distance from the curve at a load where it is significant, else 0; counts. */
    double ownSd(double loadN) {
        int n = 0;
        double squares = 0;
        for (int i = 0; i < loadsN.length; i++) {
            if (loadsN[i] == loadN) {
                n++;
                squares += residuals[i] * residuals[i];
            }
        }
        if (n < 2) {
            return 0;
        }
        double critical = ChiSquaredDistribution.of(n).inverseCumulativeProbability(LOAD_DIFFERS);
        return squares > critical * readingSd * readingSd ? Math.sqrt(squares / n) : 0;
    }

    /** Returns how many readings a load has. */
    int readingsAt(double loadN) {
        int n = 0;
        for (double load : loadsN) {
            n += load == loadN ? 1 : 0;
        }
        return n;
    }
}

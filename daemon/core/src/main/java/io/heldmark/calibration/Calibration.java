package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.NavigableSet;
import java.util.TreeSet;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Evaluates readings under known loads: fit of counts over newtons through all readings, statistics and uncertainty of each
 * load.
 *
 * <p>Increasing and decreasing readings are fitted together: people are measured while they pull and while they let go, and so
 * the curve runs through the middle of the hysteresis.
 */
public final class Calibration {
    private static final double SURE = 0.975;
    private static final double OUTLIER = 0.001;
    private static final double ZERO_MOVED = 0.001;

    private final List<CalibrationReading> readings;
    private final CalibrationRequest request;
    private final List<Run> runs;
    private final List<String> notes = new ArrayList<>();

    private Calibration(List<CalibrationReading> readings, CalibrationRequest request) {
        this.readings = readings;
        this.request = request;
        runs = Run.of(readings);
    }

    /**
     * Evaluates.
     *
     * @param readings in the order in which they were taken.
     * @param request how.
     * @throws CalibrationException if they give no calibration.
     */
    public static CalibrationResult of(List<CalibrationReading> readings, CalibrationRequest request)
            throws CalibrationException {
        Plausibility.check(readings, request);
        List<CalibrationReading> used = request.zeroOfEachRun() ? withoutZeros(readings) : readings;
        double takenOff = request.zeroOfEachRun()
                ? Run.mean(Run.of(readings).stream().map(Run::zeroBefore).toList())
                : 0;
        return new Calibration(used, request).result(takenOff);
    }

    /** Subtracts each run's zero before; refuses a run that has none. */
    private static List<CalibrationReading> withoutZeros(List<CalibrationReading> readings)
            throws CalibrationException {
        List<CalibrationReading> moved = new ArrayList<>();
        for (Run run : Run.of(readings)) {
            if (Double.isNaN(run.zeroBefore())) {
                throw new CalibrationException(
                        Plausibility.lines(run.readings()) + ": run " + run.name()
                                + " has no reading at zero load (direction up) before its loads; add it, or leave --zero-of-each-run out");
            }
            for (CalibrationReading r : run.readings()) {
                moved.add(new CalibrationReading(
                        r.run(), r.mounting(), r.increasing(), r.appliedN(), r.counts() - run.zeroBefore(), r.line()));
            }
        }
        return moved;
    }

    private CalibrationResult result(double zeroTakenOff) throws CalibrationException {
        double[] loadsN =
                readings.stream().mapToDouble(CalibrationReading::appliedN).toArray();
        double[] counts =
                readings.stream().mapToDouble(CalibrationReading::counts).toArray();
        CalibrationCurve curve = new CalibrationCurve(PolynomialFit.of(loadsN, counts, request.degree()));
        TreeSet<Double> different = new TreeSet<>();
        for (double loadN : loadsN) {
            different.add(loadN == 0 ? 0.0 : loadN); // Minus zero is zero.
        }
        refuseUseless(curve, different.first(), different.last());
        double relativeU = request.reference().relativeU();
        List<Coefficient> coefficients = new ArrayList<>();
        for (int i = 0; i <= request.degree(); i++) {
            coefficients.add(Coefficient.of(curve.fit(), i, relativeU));
        }
        LoadStatistics statistics = new LoadStatistics(runs, curve);
        Scatter scatter = new Scatter(readings, curve.fit());
        List<LoadResult> loads = new ArrayList<>();
        for (double loadN : different) {
            loads.add(load(loadN, statistics, LoadUncertainty.at(loadN, curve, scatter, relativeU), curve));
        }
        noteWhatMatters(curve, different);
        return new CalibrationResult(
                request,
                readings.size(),
                curve,
                coefficients,
                loads,
                runs.stream().map(RunResult::of).toList(),
                notes,
                zeroTakenOff);
    }

    private LoadResult load(
            double loadN, LoadStatistics statistics, LoadUncertainty uncertainty, CalibrationCurve curve) {
        List<Double> there = readings.stream()
                .filter(r -> r.appliedN() == loadN)
                .map(CalibrationReading::counts)
                .toList();
        double mean = Run.mean(there);
        double residualN = (mean - curve.counts(loadN)) / curve.fit().slopeAt(loadN);
        return new LoadResult(
                loadN,
                there.size(),
                mean,
                residualN,
                statistics.repeatability(loadN),
                statistics.reproducibility(loadN),
                statistics.reversibility(loadN),
                statistics.interpolationError(loadN),
                statistics.zeroError(loadN),
                uncertainty);
    }

    private void refuseUseless(CalibrationCurve curve, double leastN, double mostN) throws CalibrationException {
        PolynomialFit fit = curve.fit();
        double middle = leastN + (mostN - leastN) / 2;
        double rise = Math.abs(fit.slopeAt(middle)) * (mostN - leastN);
        double t = TDistribution.of(fit.degreesOfFreedom()).inverseCumulativeProbability(SURE);
        if (!(rise > t * fit.residualSd())) {
            throw new CalibrationException(
                    Plausibility.lines(readings)
                            + ": the counts do not follow the loads; check the wiring, and that each reading stands by its load");
        }
        if (curve.turnsBetween(leastN, mostN)) {
            throw new CalibrationException(Plausibility.lines(readings) + ": the fitted curve turns back between "
                    + Plausibility.newtons(leastN) + " and " + Plausibility.newtons(mostN)
                    + ", so that counts do not tell the force; fit a straight line, or check the readings");
        }
    }

    private void noteWhatMatters(CalibrationCurve curve, NavigableSet<Double> loads) {
        LoadReference reference = request.reference();
        if (Double.isNaN(reference.loadRelativeU())) {
            notes.add("the uncertainty of the applied loads was not stated (--load-u-percent); none is in the figures");
        }
        if (reference.unit().equals("kg") && reference.gravityMS2() == Gravity.STANDARD_M_S2) {
            notes.add("the place was not stated (--latitude-deg, --height-m); standard gravity stands in, off by up to"
                    + " 0.27 %");
        }
        if (!loads.contains(0.0)) {
            notes.add("no reading at zero load; deflections are counted from the curve's own value there");
        }
        noteMovedZero(curve, loads);
        noteDirection();
        noteOutlier(curve.fit());
    }

    private void noteMovedZero(CalibrationCurve curve, NavigableSet<Double> loads) {
        double[] zeros = runs.stream()
                .mapToDouble(Run::zeroBefore)
                .filter(z -> !Double.isNaN(z))
                .sorted()
                .toArray();
        double span = Math.abs(curve.counts(loads.last()) - curve.counts(loads.first()));
        if (zeros.length > 1 && zeros[zeros.length - 1] - zeros[0] > ZERO_MOVED * span) {
            notes.add(String.format(
                    Locale.ROOT,
                    "the zero moved by %.2g %% of the span from run to run; --zero-of-each-run takes each run's own",
                    100 * (zeros[zeros.length - 1] - zeros[0]) / span));
        }
    }

    private void noteDirection() {
        for (Run run : runs) {
            CalibrationReading before = null;
            for (CalibrationReading r : run.readings()) {
                double step = before == null ? 0 : Math.abs(r.appliedN()) - Math.abs(before.appliedN());
                if (before != null && before.increasing() == r.increasing() && (r.increasing() ? step < 0 : step > 0)) {
                    notes.add("line " + r.line() + ": direction is " + (r.increasing() ? "up" : "down")
                            + ", but the load is " + (r.increasing() ? "lower" : "higher") + " than the one before");
                    return;
                }
                before = r;
            }
        }
    }

    /** Notes the reading that lies farthest off, if a t test of its externally studentized residual (Bonferroni) finds it odd. */
    private void noteOutlier(PolynomialFit fit) {
        int degrees = fit.degreesOfFreedom() - 1;
        if (degrees < 1 || fit.residualSd() == 0) {
            return;
        }
        double squares = fit.residualSd() * fit.residualSd() * fit.degreesOfFreedom();
        double worst = 0;
        CalibrationReading odd = null;
        for (int i = 0; i < readings.size(); i++) {
            double share = 1 - fit.leverageAt(readings.get(i).appliedN());
            double own = fit.residual(i) * fit.residual(i) / share;
            double t = Math.sqrt(own * degrees / Math.max(squares - own, 1e-12 * squares));
            if (share > 0 && t > worst) {
                worst = t;
                odd = readings.get(i);
            }
        }
        double level = 1 - OUTLIER / (2 * readings.size());
        if (odd != null && worst > TDistribution.of(degrees).inverseCumulativeProbability(level)) {
            notes.add("line " + odd.line()
                    + ": this reading lies far from the curve of the others; look for a slip of the pen");
        }
    }
}

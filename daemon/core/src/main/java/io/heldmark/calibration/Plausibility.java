package io.heldmark.calibration;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.ToDoubleFunction;

/** What readings must be before anything is fitted to them; limits without a source are the project's. */
final class Plausibility {
    private static final double REPEATS_FEWER = 0.75;
    private static final double REPEATS_HALF = 0.6;
    private static final double HEAVY_N = 20_000;
    private static final double HEAVIER = 10;

    private final List<CalibrationReading> readings;
    private final CalibrationRequest request;

    private Plausibility(List<CalibrationReading> readings, CalibrationRequest request) {
        this.readings = readings;
        this.request = request;
    }

    /** Refuses readings that cannot give a calibration. */
    static void check(List<CalibrationReading> readings, CalibrationRequest request) throws CalibrationException {
        if (readings.isEmpty()) {
            throw new CalibrationException("no reading; rows of run, direction, load and counts are needed");
        }
        Plausibility check = new Plausibility(readings, request);
        check.columns();
        check.ratedLoad();
        check.differentLoads();
    }

    private void columns() throws CalibrationException {
        if (!request.columnsAsNamed() && (repeatsSwapped() || sizesSwapped())) {
            throw new CalibrationException(lines() + ": applied and counts look swapped: applied varies like a cell's"
                    + " readings, counts like loads; swap the columns, or say --not-swapped if they are right");
        }
    }

    /** Loads are put on again and again, readings hardly ever repeat: the other way round is suspicious. */
    private boolean repeatsSwapped() {
        int loads = different(CalibrationReading::appliedN);
        int counts = different(CalibrationReading::counts);
        return counts > 1
                && counts <= REPEATS_FEWER * loads
                && counts <= REPEATS_HALF * readings.size()
                && greatest(CalibrationReading::appliedN) > greatest(CalibrationReading::counts);
    }

    /** Whole numbers over 20 kN as loads, with more digits than the counts and far above them. */
    private boolean sizesSwapped() {
        double unit = request.reference().newtonsPerUnit();
        double appliedMost = greatest(CalibrationReading::appliedN);
        boolean whole = readings.stream().allMatch(r -> isWhole(r.appliedN() / unit));
        return whole
                && appliedMost >= HEAVY_N
                && appliedMost / unit >= HEAVIER * greatest(CalibrationReading::counts)
                && digits(r -> r.appliedN() / unit) >= digits(CalibrationReading::counts) + 1;
    }

    private static boolean isWhole(double value) {
        return Math.abs(value - Math.rint(value)) <= 1e-9 * Math.abs(value);
    }

    private int different(ToDoubleFunction<CalibrationReading> column) {
        Set<Double> values = new HashSet<>();
        readings.forEach(r -> values.add(column.applyAsDouble(r)));
        return values.size();
    }

    private double greatest(ToDoubleFunction<CalibrationReading> column) {
        return readings.stream()
                .mapToDouble(r -> Math.abs(column.applyAsDouble(r)))
                .max()
                .orElse(0);
    }

    /** Returns the mean number of significant digits, trailing zeros left out, of a column's values that are not zero. */
    private double digits(ToDoubleFunction<CalibrationReading> column) {
        return readings.stream()
                .mapToDouble(column)
                .filter(v -> v != 0)
                .map(v -> BigDecimal.valueOf(v).stripTrailingZeros().precision())
                .average()
                .orElse(0);
    }

    private void ratedLoad() throws CalibrationException {
        for (CalibrationReading reading : readings) {
            if (Math.abs(reading.appliedN()) > request.ratedLoadN()) {
                throw new CalibrationException("line " + reading.line() + ": a load of " + newtons(reading.appliedN())
                        + " is beyond the rated load of " + newtons(request.ratedLoadN())
                        + "; check the load and its unit, and the cell for damage");
            }
        }
    }

    private void differentLoads() throws CalibrationException {
        TreeSet<Double> loads = new TreeSet<>();
        readings.forEach(r -> loads.add(r.appliedN()));
        int needed = request.degree() + 2;
        if (loads.size() == 1) {
            throw new CalibrationException(lines() + ": " + (readings.size() == 1 ? "one reading" : "all readings")
                    + " at the same load of " + newtons(loads.first()) + "; " + needed
                    + " different loads at least are needed, zero counts as one");
        }
        if (loads.size() < needed) {
            List<String> there = new ArrayList<>();
            loads.forEach(load -> there.add(newtons(load)));
            throw new CalibrationException(lines() + ": the only loads are " + String.join(" and ", there) + "; a "
                    + (request.degree() == 1 ? "straight line" : "parabola") + " needs " + needed
                    + " different loads at least (zero counts as one), else nothing shows how well it fits");
        }
    }

    private String lines() {
        return lines(readings);
    }

    /** Returns the lines that readings stand in. */
    static String lines(List<CalibrationReading> readings) {
        long first = readings.get(0).line();
        long last = readings.get(readings.size() - 1).line();
        return first == last ? "line " + first : "lines " + first + " to " + last;
    }

    /** Returns a load for people. */
    static String newtons(double loadN) {
        return String.format(Locale.ROOT, "%.6g N", loadN)
                .replaceFirst("(\\.\\d*?)0+ N", "$1 N")
                .replace(". N", " N");
    }
}

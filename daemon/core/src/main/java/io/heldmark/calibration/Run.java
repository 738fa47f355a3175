package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * One series of readings in the order in which they were taken: zero, loads going up, loads going down, zero.
 *
 * <p>Zero before: the mean of the readings at zero load with direction up before the first load. Zero after: the mean of those
 * with direction down, or after the first load.
 */
final class Run {
    private final String name;
    private final String mounting;
    private final List<CalibrationReading> readings = new ArrayList<>();
    private double zeroBefore = Double.NaN;
    private double zeroAfter = Double.NaN;

    private Run(String name, String mounting) {
        this.name = name;
        this.mounting = mounting;
    }

    /** Sorts readings into runs; a run that only goes down continues the one before it, where that only goes up. */
    static List<Run> of(List<CalibrationReading> all) {
        Map<String, Run> byName = new LinkedHashMap<>();
        for (CalibrationReading reading : all) {
            String key = reading.mounting() + "\n" + reading.run();
            byName.computeIfAbsent(key, k -> new Run(reading.run(), reading.mounting()))
                    .readings
                    .add(reading);
        }
        List<Run> runs = new ArrayList<>();
        for (Run run : byName.values()) {
            Run before = runs.isEmpty() ? null : runs.get(runs.size() - 1);
            if (before != null && before.mounting.equals(run.mounting) && before.onlyUp() && !run.hasUp()) {
                before.readings.addAll(run.readings);
            } else {
                runs.add(run);
            }
        }
        runs.forEach(Run::findZeros);
        return runs;
    }

    private boolean hasUp() {
        return readings.stream().anyMatch(r -> r.increasing() && !r.atZero());
    }

    private boolean onlyUp() {
        return readings.stream().allMatch(r -> r.increasing() || r.atZero());
    }

    private void findZeros() {
        List<Double> before = new ArrayList<>();
        List<Double> after = new ArrayList<>();
        boolean loaded = false;
        for (CalibrationReading reading : readings) {
            if (!reading.atZero()) {
                loaded = true;
            } else if (reading.increasing() && !loaded) {
                before.add(reading.counts());
            } else {
                after.add(reading.counts());
            }
        }
        zeroBefore = mean(before);
        zeroAfter = mean(after);
    }

    String name() {
        return name;
    }

    String mounting() {
        return mounting;
    }

    List<CalibrationReading> readings() {
        return readings;
    }

    /** Returns the zero before the loads, in counts; NaN where it was not read. */
    double zeroBefore() {
        return zeroBefore;
    }

    /** Returns the zero after the loads, in counts; NaN where it was not read. */
    double zeroAfter() {
        return zeroAfter;
    }

    /** Returns the counts read at a load, going up or going down. */
    List<Double> countsAt(double loadN, boolean increasing) {
        return readings.stream()
                .filter(r -> r.appliedN() == loadN && r.increasing() == increasing)
                .map(CalibrationReading::counts)
                .toList();
    }

    /** Returns the greatest load of either sign. */
    double greatestLoadN() {
        double greatest = 0;
        for (CalibrationReading reading : readings) {
            greatest = Math.abs(reading.appliedN()) > Math.abs(greatest) ? reading.appliedN() : greatest;
        }
        return greatest;
    }

    /**
     * Returns f0 = 100 (zero after - zero before) / XN, XN the deflection at this run's greatest load; NaN where a zero was
     * not read.
     */
    double zeroErrorPercent() {
        double greatestN = greatestLoadN();
        List<Double> there = readings.stream()
                .filter(r -> r.appliedN() == greatestN)
                .map(CalibrationReading::counts)
                .toList();
        return 100 * (zeroAfter - zeroBefore) / (mean(there) - zeroBefore);
    }

    /** Returns the mean; NaN of nothing. */
    static double mean(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).sum() / values.size();
    }
}

package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Slips that show as soon as a reading is taken: a load that is not the one asked for, two that were swapped, a cell that does not
 * move, a zero that is not one. Each reading is held against the earlier ones, by a straight line through the run's zero. The limits
 * are common practice, no published source; nothing is refused by them.
 */
final class SeriesDoubts {
    private static final double ODD = 0.03;
    private static final double LIKE_ANOTHER = 0.015;
    private static final double ZERO_MOVED = 0.005;
    private static final double HARDLY = 10;

    private final CalibrationSeries series;
    private final List<CalibrationReading> readings;

    SeriesDoubts(CalibrationSeries series) {
        this.series = series;
        readings = series.readings(1);
    }

    /** Counts per unit of load by the readings under load before a step (line), least squares through each run's zero; NaN without. */
    static double countsPerUnit(List<CalibrationReading> readings, int beforeLine) {
        double products = 0;
        double squares = 0;
        double zero = 0;
        String run = "";
        for (CalibrationReading r : readings) {
            zero = r.run().equals(run) ? zero : r.counts();
            run = r.run();
            if (r.line() < beforeLine && !r.atZero()) {
                products += r.appliedN() * (r.counts() - zero);
                squares += r.appliedN() * r.appliedN();
            }
        }
        return squares > 0 ? products / squares : Double.NaN;
    }

    /** Returns the doubts about a step, counted from 0. */
    List<String> of(int step) {
        List<String> doubts = new ArrayList<>();
        TakenReading taken = series.taken().get(step);
        if (taken.moving()) {
            doubts.add("This reading was taken while the cell was still moving.");
        }
        if (series.steps().get(step).kind() == SeriesStep.Kind.READ) {
            judge(step, taken, doubts);
        }
        return doubts;
    }

    private void judge(int step, TakenReading taken, List<String> doubts) {
        CalibrationReading own = null;
        double zero = Double.NaN;
        for (CalibrationReading r : readings) {
            if (r.line() > step + 1) {
                break;
            }
            zero = own != null && own.run().equals(r.run()) ? zero : r.counts();
            own = r;
        }
        if (own == null) {
            return;
        }
        double perUnit = countsPerUnit(readings, step + 1);
        if (own.atZero()) {
            judgeZero(own, zero, perUnit, doubts);
        } else if (Double.isNaN(perUnit)) {
            if (Math.abs(own.counts() - zero) < HARDLY * Math.max(1, taken.sdCounts())) {
                doubts.add(
                        "The cell hardly moved under this load. Is the load on this cell, and is the cell connected?");
            }
        } else {
            judgeLoad(own.appliedN(), (own.counts() - zero) / perUnit, doubts);
        }
    }

    private void judgeZero(CalibrationReading own, double zeroOfRun, double perUnit, List<String> doubts) {
        double before = readings.get(0).run().equals(own.run())
                ? zeroOfRun
                : readings.get(0).counts();
        double share =
                Math.abs((own.counts() - before) / (perUnit * series.plan().greatest()));
        if (share > ZERO_MOVED) {
            doubts.add(String.format(
                    Locale.ROOT,
                    "The empty cell reads %.1f %% of the highest load away from where it began. Is everything off, and has"
                            + " nothing shifted?",
                    100 * share));
        }
    }

    private void judgeLoad(double planned, double shown, List<String> doubts) {
        if (Math.abs(shown - planned) <= ODD * Math.abs(planned)) {
            return;
        }
        double like = another(planned, shown);
        if (Double.isNaN(like)) {
            doubts.add(String.format(
                    Locale.ROOT,
                    "This reading is %.1f %% off what the earlier ones say. Is it the right load, and does it hang or lie"
                            + " freely?",
                    100 * Math.abs((shown - planned) / planned)));
        } else if (like == 0) {
            doubts.add("The cell reads as if nothing were on it. Is the load on this cell?");
        } else {
            doubts.add(String.format(
                    Locale.ROOT,
                    "This reads like %s, not like %s. Were two loads swapped, here or in an earlier step?",
                    withUnit(like),
                    withUnit(planned)));
        }
    }

    /** Returns the other planned load that a reading looks like; NaN where it looks like none. */
    private double another(double planned, double shown) {
        double least = Math.abs(series.plan().loads().get(0));
        if (Math.abs(shown) < LIKE_ANOTHER * least) {
            return 0;
        }
        for (double load : series.plan().loads()) {
            if (load != planned && Math.abs(shown - load) <= LIKE_ANOTHER * Math.abs(load)) {
                return load;
            }
        }
        return Double.NaN;
    }

    private String withUnit(double load) {
        String number = String.format(Locale.ROOT, "%.6g", load)
                .replaceFirst("(\\.\\d*?)0+$", "$1")
                .replaceFirst("\\.$", "");
        return number + " " + series.unit();
    }
}

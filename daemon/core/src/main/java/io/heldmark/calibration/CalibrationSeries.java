package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.List;

/**
 * A guided calibration on its way: the steps of a plan and what was taken at them, one after the other.
 *
 * <p><b>Reference cell.</b> A load that was meant to be F and that the reference shows as F' close to it counts as F: the deflection
 * over the run's zero is multiplied by F / F'. What the curvature between both makes of that is a share of {@link #OFF_MOST} of
 * the curvature and does not matter.
 *
 * <p><b>Threading.</b> One thread.
 */
public final class CalibrationSeries {
    /** Farthest that a reference cell's load may be from the planned one, as a share of it. */
    public static final double OFF_MOST = 0.05;

    private static final double STILL_SHARE = 2e-4;
    private static final double CHANGED = 0.2;
    private static final double HARDLY = 10;

    private final SeriesPlan plan;
    private final String unit;
    private final List<SeriesStep> steps;
    private final List<TakenReading> taken = new ArrayList<>();

    /**
     * Begins a plan.
     *
     * @param unit of its loads, for sentences.
     */
    public CalibrationSeries(SeriesPlan plan, String unit) {
        this.plan = plan;
        this.unit = unit;
        steps = List.copyOf(plan.steps());
    }

    /** Returns the plan. */
    public SeriesPlan plan() {
        return plan;
    }

    /** Returns the unit of the plan's loads. */
    String unit() {
        return unit;
    }

    /** Returns the steps in order. */
    public List<SeriesStep> steps() {
        return steps;
    }

    /** Returns what was taken so far, one for each step that is done. */
    public List<TakenReading> taken() {
        return List.copyOf(taken);
    }

    /** Returns the number of steps that are done; that of the step to do. */
    public int done() {
        return taken.size();
    }

    /** Tells whether all is done. */
    public boolean finished() {
        return taken.size() == steps.size();
    }

    /**
     * Does the next step.
     *
     * @throws IllegalArgumentException with one sentence if the load is too far from the planned one.
     * @throws IllegalStateException if all is done.
     */
    public void take(TakenReading reading) {
        if (finished()) {
            throw new IllegalStateException("every step is done");
        }
        SeriesStep step = steps.get(done());
        boolean load = step.kind() == SeriesStep.Kind.READ && !step.atZero();
        if (load && !(Math.abs(reading.applied() - step.applied()) <= OFF_MOST * Math.abs(step.applied()))) {
            throw new IllegalArgumentException("The reference must be within " + Math.round(100 * OFF_MOST)
                    + " % of the planned load; bring it" + " closer, or begin again with other loads.");
        }
        taken.add(reading);
    }

    /** Takes the last step back; does nothing at the first. */
    public void undo() {
        if (!taken.isEmpty()) {
            taken.remove(taken.size() - 1);
        }
    }

    /**
     * Returns the readings at the planned loads, line n being the nth step.
     *
     * @param newtonsPerUnit newtons in one unit of the plan.
     */
    public List<CalibrationReading> readings(double newtonsPerUnit) {
        List<CalibrationReading> readings = new ArrayList<>();
        double zero = Double.NaN;
        String run = "";
        for (int i = 0; i < taken.size(); i++) {
            SeriesStep step = steps.get(i);
            if (step.kind() != SeriesStep.Kind.READ) {
                continue;
            }
            TakenReading one = taken.get(i);
            zero = step.run().equals(run) ? zero : one.meanCounts(); // A run begins with its zero.
            run = step.run();
            double counts = step.atZero() || one.applied() == step.applied()
                    ? one.meanCounts()
                    : zero + (one.meanCounts() - zero) * step.applied() / one.applied();
            double appliedN = step.atZero() ? 0 : step.applied() * newtonsPerUnit;
            readings.add(new CalibrationReading(run, step.mounting(), step.increasing(), appliedN, counts, i + 1L));
        }
        return readings;
    }

    /** Returns the load that counts stand for by the readings under load so far, in the unit of the plan; NaN before there is one. */
    public double shown(double counts) {
        List<CalibrationReading> readings = readings(1);
        double perUnit = SeriesDoubts.countsPerUnit(readings, taken.size() + 1);
        double zero = Double.NaN;
        for (CalibrationReading r : readings) {
            // The zero of the run that is on its way, else of the newest.
            if (r.atZero() && r.increasing()) {
                zero = r.counts();
            }
        }
        return (counts - zero) / perUnit;
    }

    /**
     * Tells whether counts are still those of the step before, although the next step has another load: by less than a fifth of
     * the change, or before anything is known of the cell by less than ten times the scatter.
     */
    public boolean unchanged(double counts, double sdCounts) {
        if (finished() || taken.isEmpty()) {
            return false;
        }
        SeriesStep next = steps.get(done());
        SeriesStep before = steps.get(done() - 1);
        boolean reads = next.kind() == SeriesStep.Kind.READ && before.kind() == SeriesStep.Kind.READ;
        if (!reads || next.applied() == before.applied()) {
            return false;
        }
        double perUnit = SeriesDoubts.countsPerUnit(readings(1), taken.size() + 1);
        double change = Double.isNaN(perUnit)
                ? HARDLY * Math.max(1, sdCounts)
                : CHANGED * Math.abs(perUnit * (next.applied() - before.applied()));
        return Math.abs(counts - taken.get(taken.size() - 1).meanCounts()) < change;
    }

    /** Returns what is odd about the reading of a step, in plain words; mostly nothing. */
    public List<String> doubts(int step) {
        return new SeriesDoubts(this).of(step);
    }

    /**
     * Returns the movement of counts that does not matter: a 5000th of the deflection at the greatest load, as far as readings
     * show it; NaN before there is one under load.
     */
    public double toleranceCounts() {
        double perUnit = SeriesDoubts.countsPerUnit(readings(1), taken.size() + 1);
        return Double.isNaN(perUnit) ? Double.NaN : STILL_SHARE * Math.abs(perUnit * plan.greatest());
    }
}

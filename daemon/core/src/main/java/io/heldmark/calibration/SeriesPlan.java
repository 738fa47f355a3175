package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.List;

/**
 * Which loads are put on in which order: for each mounting a preload, then in each run zero, the loads going up, where wanted the
 * same going down, and zero.
 *
 * @param loads in the order in which they are put on, in one unit, growing in size, none of them zero.
 * @param down whether readings are taken going down as well.
 * @param mountings how often the cell is mounted, 1 to 10.
 * @param runs runs in each mounting, 1 to 5.
 * @param preload whether the cell is loaded three times before.
 */
public record SeriesPlan(List<Double> loads, boolean down, int mountings, int runs, boolean preload) {
    /** Most loads. */
    public static final int LOADS_MOST = 20;
    /** Most mountings. */
    public static final int MOUNTINGS_MOST = 10;
    /** Most runs in one mounting. */
    public static final int RUNS_MOST = 5;

    /** Rejects what is no plan, in one sentence for people. */
    public SeriesPlan {
        loads = List.copyOf(loads);
        require(!loads.isEmpty() && loads.size() <= LOADS_MOST, "Give 1 to " + LOADS_MOST + " loads.");
        require(mountings >= 1 && mountings <= MOUNTINGS_MOST, "Mount the cell 1 to " + MOUNTINGS_MOST + " times.");
        require(runs >= 1 && runs <= RUNS_MOST, "Take 1 to " + RUNS_MOST + " runs in each mounting.");
        double before = 0;
        for (double load : loads) {
            boolean grows = Math.abs(load) > Math.abs(before) && (before == 0 || load > 0 == before > 0);
            require(
                    grows && Math.abs(load) <= 1e9,
                    "The loads must be numbers, none of them zero, each greater than the one before.");
            before = load;
        }
    }

    private static void require(boolean holds, String sentence) {
        if (!holds) {
            throw new IllegalArgumentException(sentence);
        }
    }

    /** Returns the greatest load. */
    public double greatest() {
        return loads.get(loads.size() - 1);
    }

    /** Returns the steps in order. */
    public List<SeriesStep> steps() {
        List<SeriesStep> steps = new ArrayList<>();
        for (int m = 1; m <= mountings; m++) {
            String mounting = String.valueOf(m);
            if (m > 1) {
                steps.add(new SeriesStep(SeriesStep.Kind.MOUNT, "", mounting, true, 0));
            }
            if (preload) {
                steps.add(new SeriesStep(SeriesStep.Kind.PRELOAD, "", mounting, true, greatest()));
            }
            for (int r = 1; r <= runs; r++) {
                addRun(steps, String.valueOf((m - 1) * runs + r), mounting);
            }
        }
        return steps;
    }

    private void addRun(List<SeriesStep> steps, String run, String mounting) {
        steps.add(new SeriesStep(SeriesStep.Kind.READ, run, mounting, true, 0));
        for (double load : loads) {
            steps.add(new SeriesStep(SeriesStep.Kind.READ, run, mounting, true, load));
        }
        for (int i = loads.size() - 2; down && i >= 0; i--) {
            steps.add(new SeriesStep(SeriesStep.Kind.READ, run, mounting, false, loads.get(i)));
        }
        steps.add(new SeriesStep(SeriesStep.Kind.READ, run, mounting, false, 0));
    }
}

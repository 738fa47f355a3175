package io.heldmark.calibration;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/**
 * 2,000 calibrations of simulated cells whose nonlinearity, hysteresis, creep, spread between mountings, noise and error of the
 * masses are known: how often the force of a later reading, in a new mounting, lies inside the stated 95 % interval.
 */
class CalibrationCoverageTest {
    private static final int CELLS = 2000;
    private static final double FULL_N = 800;
    private static final double[] LOADS_N = {0, 100, 200, 400, 600, 800};

    /** One invented cell; shares of the full load. */
    private static final class Cell {
        private final SplittableRandom random;
        private final double zero;
        private final double slope;
        private final double bend;
        private final double lag;
        private final double creep;
        private final double mountingSd;
        private final double noise;
        private double mounting;

        Cell(SplittableRandom random, double bendSize) {
            this.random = random;
            zero = 20_000 * (random.nextDouble() - 0.5);
            slope = 200 + 2000 * random.nextDouble();
            bend = bendSize * (2 * random.nextDouble() - 1);
            lag = 4e-4 * random.nextDouble();
            creep = 2e-4 * random.nextDouble();
            mountingSd = 3e-4 * random.nextDouble();
            noise = (1e-5 + 2e-4 * random.nextDouble()) * FULL_N;
        }

        void mount() {
            mounting = mountingSd * random.nextGaussian();
        }

        /** Returns counts that are read some time after a load was put on. */
        double read(double forceN, boolean increasing) {
            double part = forceN / FULL_N;
            double bent = 4 * bend * part * (1 - part) + (increasing ? -0.5 : 0.5) * 4 * lag * part * (1 - part);
            double crept = creep * part * (1 - Math.exp(-20 * (0.5 + random.nextDouble()) / 30));
            double shownN = forceN * (1 + mounting) + FULL_N * (bent + crept) + noise * random.nextGaussian();
            return Math.rint(zero + slope * shownN);
        }
    }

    private static double coverage(int degree, double bendSize, long seed) throws CalibrationException {
        SplittableRandom random = new SplittableRandom(seed);
        int inside = 0;
        double statedU = 0.0005;
        for (int i = 0; i < CELLS; i++) {
            Cell cell = new Cell(random.split(), bendSize);
            double massError = 1 + statedU * random.nextGaussian();
            CalibrationRequest request =
                    new CalibrationRequest(degree, false, LoadReference.force("N", statedU), Double.NaN, true);
            CalibrationResult result = Calibration.of(series(cell, massError), request);
            cell.mount();
            LoadResult load = result.loads().get(1 + random.nextInt(LOADS_N.length - 1));
            double shownN = result.curve().forceN(cell.read(load.loadN(), random.nextBoolean()));
            inside += Math.abs(shownN - load.loadN()) <= load.uncertainty().expandedN() ? 1 : 0;
        }
        return (double) inside / CELLS;
    }

    /** Five mountings up and down, the masses off by the same share each time. */
    private static List<CalibrationReading> series(Cell cell, double massError) {
        List<CalibrationReading> readings = new ArrayList<>();
        for (int run = 0; run < 5; run++) {
            cell.mount();
            for (int i = 0; i < 2 * LOADS_N.length - 1; i++) {
                boolean up = i < LOADS_N.length;
                double loadN = LOADS_N[up ? i : 2 * LOADS_N.length - 2 - i];
                String name = String.valueOf(run);
                double counts = cell.read(loadN * massError, up);
                readings.add(new CalibrationReading(name, name, up, loadN, counts, readings.size() + 2L));
            }
        }
        return readings;
    }

    private static void assertCovers(double share) {
        assertTrue(share >= 0.93 && share <= 0.97, "inside: " + share);
    }

    @Test
    void shouldCoverTheTruthOfStraightCells() throws Exception {
        assertCovers(coverage(1, 5e-5, 42));
    }

    @Test
    void shouldCoverTheTruthOfBentCellsFittedByALine() throws Exception {
        assertCovers(coverage(1, 5e-4, 43));
    }

    @Test
    void shouldCoverTheTruthOfBentCellsFittedByAParabola() throws Exception {
        assertCovers(coverage(2, 2e-3, 44));
    }
}

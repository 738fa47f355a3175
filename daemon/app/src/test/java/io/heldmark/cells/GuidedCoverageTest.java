package io.heldmark.cells;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.pipeline.StationCalibration;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Path;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/**
 * 2,000 guided calibrations, step by step through the service that the viewer asks, of cells whose nonlinearity, hysteresis, creep,
 * spread between mountings, noise and error of the masses are known: how often the force of a later reading, in a new mounting and
 * above its own zero, lies inside the stated 95 % interval.
 */
class GuidedCoverageTest {
    private static final int CELLS = 2000;
    private static final double U_PERCENT = 0.05;
    private static final double[] LOADS_N = {100, 200, 400, 600, 800};

    /** Keeps nothing: what is written is tested elsewhere, and 100,000 files would be. */
    private static final class Nowhere extends GuidedStore {
        Nowhere() {
            super(Path.of("nowhere"));
        }

        @Override
        @Nullable GuidedCalibration load() {
            return null;
        }

        @Override
        void keep(GuidedCalibration guided) {}
    }

    private static ObjectNode plan(int degree) {
        ObjectNode plan =
                new JsonMapper().createObjectNode().put("by", "A. Invented").put("unit", "N");
        plan.put("loadUPercent", U_PERCENT)
                .put("degree", degree)
                .put("mountings", 4)
                .put("preload", false);
        for (double load : LOADS_N) {
            plan.withArray("loads").add(load);
        }
        return plan;
    }

    /** Does every step; the masses are off by the same share each time. */
    private static ObjectNode guided(GuideDesk desk, InventedCell cell, int degree, double massError) {
        ObjectNode state = desk.begin(0, plan(degree));
        cell.mount();
        while (state.path("state").asText().equals("running")) {
            int done = state.path("done").asInt();
            JsonNode step = state.path("steps").path(done);
            if (step.path("kind").asText().equals("mount")) {
                cell.mount();
            }
            cell.load(
                    step.path("applied").asDouble() * massError,
                    step.path("increasing").asBoolean());
            state = desk.take(done, Double.NaN, false);
        }
        return state;
    }

    private static double coverage(int degree, double bendSize, long seed) throws Exception {
        SplittableRandom random = new SplittableRandom(seed);
        int inside = 0;
        for (int i = 0; i < CELLS; i++) {
            InventedCell cell = new InventedCell(random.split(), bendSize, Path.of("nowhere"));
            double massError = 1 + U_PERCENT / 100 * random.nextGaussian();
            GuideDesk desk = new GuideDesk(cell, new SystemStationClock(), "test", new Nowhere());
            JsonNode load = guided(desk, cell, degree, massError)
                    .path("result")
                    .path("loads")
                    .path(1 + random.nextInt(LOADS_N.length));
            double loadN = load.path("appliedN").asDouble();
            StationCalibration used = StationCalibration.of(desk.finishedResult(), "");
            cell.mount();
            cell.load(0, true);
            double zeroN = used.forceN(cell.read());
            cell.load(loadN, random.nextBoolean());
            double errorN = used.forceN(cell.read()) - zeroN - loadN;
            inside += Math.abs(errorN) <= load.path("expandedUncertaintyN").asDouble() ? 1 : 0;
        }
        return (double) inside / CELLS;
    }

    private static void assertCovers(double share) {
        assertTrue(share >= 0.93 && share <= 0.97, "inside: " + share);
    }

    @Test
    void shouldCoverTheTruthOfCellsFittedByALine() throws Exception {
        assertCovers(coverage(1, 3e-4, 51));
    }

    @Test
    void shouldCoverTheTruthOfBentCellsFittedByAParabola() throws Exception {
        assertCovers(coverage(2, 2e-3, 52));
    }
}

package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.Random;
import org.junit.jupiter.api.Test;

class LiftTest {
    /** Number of readings, expected highest of normal deviates, standard deviation: published tables, here from memory. */
    private static final double[][] TABLE = {
        {1, 0, 1},
        {2, 0.5642, 0.8256},
        {5, 1.1630, 0.6690},
        {10, 1.5388, 0.5868},
        {100, 2.5076, 0.4294},
        {1000, 3.2414, 0.3514}
    };

    @Test
    void shouldHaveTheMomentsOfTheHighestOfMany() {
        for (double[] row : TABLE) {
            Lift lift = Lift.of(new double[] {300}, 2, row[0]);
            assertEquals(2 * row[1], lift.mean(), 0.003);
            assertEquals(2 * row[2], lift.standardDeviation(), 0.004);
        }
    }

    @Test
    void shouldLeaveOutWhatLiesFarBelow() {
        Lift one = Lift.of(new double[] {300}, 0.5, 10);
        Lift among = Lift.of(new double[] {290, 300, 280, -5}, 0.5, 10);
        assertEquals(one.mean(), among.mean(), 1e-9);
    }

    @Test
    void shouldBeNothingWithoutNoise() {
        UncertaintyBudget of =
                UncertaintyBudget.builder().add(UncertaintySource.ZERO, 0.3).build();
        assertEquals(of, Lift.of(new double[] {300, 300}, 0, 10).budget(of, 1));
    }

    /** A hump of 100 blocks seen in noise: the lift that is told, from what is seen, against the lift there was. */
    @Test
    void shouldTellTheLiftOfNoisyBlocks() {
        Random random = new Random(5);
        double told = 0;
        double was = 0;
        int runs = 400;
        for (int run = 0; run < runs; run++) {
            double[] blocks = new double[100];
            double highest = Double.NEGATIVE_INFINITY;
            for (int k = 0; k < blocks.length; k++) {
                double truth = 400 - 0.002 * (k - 50) * (k - 50);
                for (int i = 0; i < 10; i++) {
                    double reading = truth + random.nextGaussian();
                    blocks[k] += reading / 10;
                    highest = Math.max(highest, reading);
                }
            }
            told += Lift.of(blocks, 1, 10).mean() / runs;
            was += (highest - 400) / runs;
        }
        assertEquals(was, told, 0.1 * was);
    }
}

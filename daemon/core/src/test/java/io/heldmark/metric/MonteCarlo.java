package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Locale;
import java.util.Random;
import java.util.function.ToDoubleFunction;

/**
 * Propagation of distributions (JCGM 101:2008, 7): many draws of the inputs through the measurement itself, not through its
 * derivatives.
 */
final class MonteCarlo {
    static final int DRAWS = 200_000;

    private MonteCarlo() {}

    /** Returns the root mean square of an error that is drawn anew each time: what an uncorrected value is wrong by. */
    static double rootMeanSquare(long seed, ToDoubleFunction<Random> error) {
        Random random = new Random(seed);
        double squares = 0;
        for (int i = 0; i < DRAWS; i++) {
            double e = error.applyAsDouble(random);
            squares += e * e;
        }
        return Math.sqrt(squares / DRAWS);
    }

    /** Holds a stated standard uncertainty against the draws, to 5 %. */
    static void assertAgrees(String form, double stated, long seed, ToDoubleFunction<Random> error) {
        double drawn = rootMeanSquare(seed, error);
        System.out.printf(
                Locale.ROOT,
                "%-34s stated %.5g, drawn %.5g, %+.2f %%%n",
                form,
                stated,
                drawn,
                100 * (stated / drawn - 1));
        assertEquals(drawn, stated, 0.05 * drawn, form);
    }

    /** Draws a normal deviate. */
    static double normal(Random random, double u) {
        return u * random.nextGaussian();
    }

    /** Draws from -half to half alike. */
    static double rectangular(Random random, double half) {
        return half * (2 * random.nextDouble() - 1);
    }

    /** Draws the mean of n samples of noise, each depending on the one before with the given correlation. */
    static double meanNoise(Random random, double sd, double rho, int n) {
        double innovation = sd * Math.sqrt(1 - rho * rho);
        double x = sd * random.nextGaussian();
        double sum = x;
        for (int i = 1; i < n; i++) {
            x = rho * x + innovation * random.nextGaussian();
            sum += x;
        }
        return sum / n;
    }
}

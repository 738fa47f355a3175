package io.heldmark.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The error of a standard deviation against the scatter of 400 of them, from white and from correlated noise. */
class EffectiveCountTest {
    private static final int N = 2000;
    private static final int DRAWS = 400;

    /** Samples of x_i = a x_(i-1) + e_i with standard deviation 1. */
    private static double[] noise(double a, SplittableRandom random) {
        double[] x = new double[N];
        double last = random.nextGaussian();
        for (int i = 0; i < N; i++) {
            x[i] = last;
            last = a * last + Math.sqrt(1 - a * a) * random.nextGaussian();
        }
        return x;
    }

    /** 400 draws know their own scatter to 1 / sqrt(800) = 3.5 %, so that 12 % are more than three of those. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 0.5, -0.5, 0.9})
    void shouldStateTheScatterOfStandardDeviations(double a) {
        SplittableRandom random = new SplittableRandom(17);
        double sum = 0;
        double squares = 0;
        double stated = 0;
        double counts = 0;
        for (int k = 0; k < DRAWS; k++) {
            NoiseFigures noise = NoiseFigures.of(noise(a, random));
            sum += noise.rms();
            squares += noise.rms() * noise.rms();
            stated += noise.rmsStandardUncertainty() / DRAWS;
            counts += noise.effectiveSamples() / DRAWS;
        }
        double scatter = Math.sqrt((squares - sum * sum / DRAWS) / (DRAWS - 1));
        assertEquals(1, stated / scatter, 0.12);
        assertEquals(1, counts / (N * (1 - a * a) / (1 + a * a)), 0.12);
    }

    @ParameterizedTest
    @ValueSource(ints = {3, 100})
    void shouldNotFailWhereNothingMoves(int n) {
        assertEquals(n, EffectiveCount.of(new double[n]));
        assertEquals(0, NoiseFigures.of(new double[n]).rmsStandardUncertainty());
    }
}

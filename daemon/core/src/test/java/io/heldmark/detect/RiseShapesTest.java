package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The sums, against the same ones added up point by point from the definition of each shape. */
class RiseShapesTest {
    private static final int POINTS = 64;
    private static final double WEIGHT = 3;
    private static final DoubleUnaryOperator[] SHAPES = {
        x -> x,
        x -> x * StrictMath.sqrt(x),
        x -> x * x,
        x -> x * x * StrictMath.sqrt(x),
        x -> x * x * x,
        x -> growth(1, x),
        x -> growth(2, x),
    };

    private final double[] t = new double[POINTS];
    private final double[] y = new double[POINTS];

    RiseShapesTest() {
        Random random = new Random(11);
        for (int i = 0; i < POINTS; i++) {
            t[i] = 0.2 + 0.003 * i + 0.001 * random.nextDouble();
            y[i] = 40 * StrictMath.pow((double) i / POINTS, 1.7) + random.nextGaussian();
        }
    }

    /** Five terms of the series of e^(kx) - 1, over their value at 1. */
    private static double growth(double k, double x) {
        return series(k * x) / series(k);
    }

    private static double series(double a) {
        return a + a * a / 2 + a * a * a / 6 + a * a * a * a / 24 + a * a * a * a * a / 120;
    }

    private double added(int first, double tau, DoubleUnaryOperator ofX, boolean timesY) {
        double sum = 0;
        for (int i = first; i < POINTS; i++) {
            double x = (t[i] - tau) / (t[POINTS - 1] - tau);
            sum += WEIGHT * ofX.applyAsDouble(x) * (timesY ? y[i] : 1);
        }
        return sum;
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 20, 50, 60, 62, 63})
    void shouldBeTheSumsOfEachShapeAfterAMoment(int first) {
        RiseShapes shapes = new RiseShapes(t, y, WEIGHT);
        double tau = 0.4 * t[first - 1] + 0.6 * t[first];
        shapes.sum(t[POINTS - 1] - tau, first);
        for (int shape = 0; shape < RiseShapes.COUNT; shape++) {
            DoubleUnaryOperator g = SHAPES[shape];
            shapes.select(shape);
            assertNear(added(first, tau, g, false), shapes.g);
            assertNear(added(first, tau, x -> x * g.applyAsDouble(x), false), shapes.h);
            assertNear(added(first, tau, x -> g.applyAsDouble(x) * g.applyAsDouble(x), false), shapes.gg);
            assertNear(added(first, tau, x -> x * g.applyAsDouble(x) * g.applyAsDouble(x), false), shapes.gh);
            assertNear(added(first, tau, x -> x * x * g.applyAsDouble(x) * g.applyAsDouble(x), false), shapes.hh);
            assertNear(added(first, tau, g, true), shapes.gy);
            assertNear(added(first, tau, x -> x * g.applyAsDouble(x), true), shapes.hy);
        }
    }

    /** Part of what noise leaves counts as rounding from 1e-5 on, and noise as at least a millionth of the squares. */
    private static void assertNear(double expected, double actual) {
        assertEquals(1, actual / expected, 1e-12);
    }

    @Test
    void shouldEndWithTheSlopeOfTheShape() {
        for (int shape = 0; shape < RiseShapes.COUNT; shape++) {
            double before = SHAPES[shape].applyAsDouble(1 - 1e-6);
            assertEquals((1 - before) / 1e-6, RiseShapes.endSlope(shape), 1e-5);
        }
    }

    @Test
    void shouldNearlyBeTheExponentialThatTheGrowthStandsFor() {
        for (double k = 1; k <= 2; k++) {
            for (double x = 0; x <= 1; x += 0.01) {
                assertEquals(StrictMath.expm1(k * x) / StrictMath.expm1(k), growth(k, x), 0.008);
            }
        }
    }
}

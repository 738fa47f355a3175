package io.heldmark.simulator.math;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class SinusoidsTest {
    @Test
    void shouldBeASineWithinItsStatedError() {
        for (int i = -20_000; i < 20_000; i++) {
            double cycles = i * 1.37e-4;
            assertEquals(StrictMath.sin(2 * Math.PI * cycles), Sine.ofCycles(cycles), 3e-7);
        }
    }

    @Test
    void shouldHaveTheStatedRootMeanSquareAndStayInTheBand() {
        Sinusoids sum = Sinusoids.band(new SeededRandom(5), 5, 8, 12, 0.7, 0);
        double squares = 0;
        int n = 1_000_000;
        for (int i = 0; i < n; i++) {
            double value = sum.value(i * 0.001);
            squares += value * value;
        }
        assertEquals(0.7, Math.sqrt(squares / n), 0.002);
        for (int i = 0; i < sum.terms(); i++) {
            assertTrue(sum.frequencyHz(i) >= 8 && sum.frequencyHz(i) <= 12);
        }
    }

    @Test
    void shouldIntegrateAsTheTrapezoidalRuleDoes() {
        Sinusoids sum = Sinusoids.band(new SeededRandom(6), 4, 0.01, 0.05, 2, 1);
        double integral = 0;
        double stepS = 0.01;
        for (int i = 0; i < 30_000; i++) {
            integral += (sum.value(i * stepS) + sum.value((i + 1) * stepS)) / 2 * stepS;
        }
        assertEquals(integral, sum.integral(300), 1e-3);
        assertEquals(0, sum.integral(0));
    }

    @Test
    void shouldBeNothingWithoutAmplitude() {
        assertEquals(0, Sinusoids.band(new SeededRandom(6), 4, 1, 2, 0, 0).value(3));
    }
}

package io.heldmark.model;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

class BendTest {
    private static double tangentN(double perN, double forceN) {
        return forceN + perN * forceN * forceN;
    }

    @Test
    void shouldUndoTheParabola() {
        for (double perN : new double[] {0, 1e-9, 1e-5, -1e-5, 3e-4, -3e-4}) {
            Bend bend = new Bend(perN, -200, 800);
            for (double forceN = -200; forceN <= 800; forceN += 12.5) {
                assertEquals(forceN, bend.forceN(tangentN(perN, forceN)), 1e-10, "perN=" + perN);
            }
        }
    }

    @Test
    void shouldGoOnStraightBeyondTheLoads() {
        for (double perN : new double[] {3e-4, -3e-4}) {
            Bend bend = new Bend(perN, 0, 800);
            double end = tangentN(perN, 800);
            assertEquals(800 + 100 / (1 + 1600 * perN), bend.forceN(end + 100), 1e-9);
            assertEquals(-50, bend.forceN(-50), 0, "below the lowest load the tangent at zero");
        }
    }

    @Test
    void shouldRefuseACurveThatTurnsBack() {
        assertThrows(IllegalArgumentException.class, () -> new Bend(-1e-3, 0, 500));
        assertThrows(IllegalArgumentException.class, () -> new Bend(1e-3, -500, 0));
        assertThrows(IllegalArgumentException.class, () -> new Bend(1e-3, 5, 500));
        assertThrows(IllegalArgumentException.class, () -> new Bend(Double.NaN, 0, 500));
    }
}

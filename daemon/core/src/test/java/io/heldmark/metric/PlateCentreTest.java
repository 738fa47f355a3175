package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.heldmark.model.CentreOfPressure;
import io.heldmark.model.Quantity;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class PlateCentreTest {
    private static final double[] ONE = {1, 1, 1, 1};
    private static final double[] X = {-200, 200, -200, 200};
    private static final double[] Y = {-150, -150, 150, 150};

    private static List<@Nullable Quantity> forces(double u, double... values) {
        List<@Nullable Quantity> forces = new ArrayList<>();
        for (double value : values) {
            forces.add(new Quantity(value, u, "N"));
        }
        return forces;
    }

    private static Quantity x(CentreOfPressure centre) {
        return Objects.requireNonNull(centre.x());
    }

    private static Quantity y(CentreOfPressure centre) {
        return Objects.requireNonNull(centre.y());
    }

    /** Shares 0.4, 0.3, 0.2, 0.1: x = 200 (0.3 + 0.1 - 0.4 - 0.2) = -40, y = 150 (0.2 + 0.1 - 0.4 - 0.3) = -60, by hand. */
    @Test
    void shouldBalanceTheMoments() {
        PlateCentre plate = new PlateCentre(ONE, X, Y, 20, 0);
        CentreOfPressure centre = plate.of(forces(0, 40, 30, 20, 10));
        assertEquals(-40, x(centre).value(), 1e-12);
        assertEquals(-60, y(centre).value(), 1e-12);
        assertEquals(0, x(centre).standardUncertainty(), 1e-12);
        assertNull(centre.notMeasured());
        // Cells that are pulled instead of pressed balance about the same point.
        CentreOfPressure pulled = plate.of(forces(0, -40, -30, -20, -10));
        assertEquals(-40, x(pulled).value(), 1e-12);
    }

    /** In the middle every cell is 200 mm off: u = 200 sqrt(4) u(F) / S = 200 x 2 x 0.5 / 400 = 0.5 mm; places add 1 / sqrt(4). */
    @Test
    void shouldGrowMoreUncertainTheLessThePlateCarries() {
        PlateCentre exact = new PlateCentre(ONE, X, Y, 20, 0);
        assertEquals(0.5, x(exact.of(forces(0.5, 100, 100, 100, 100))).standardUncertainty(), 1e-12);
        assertEquals(5, x(exact.of(forces(0.5, 10, 10, 10, 10))).standardUncertainty(), 1e-12);
        PlateCentre placed = new PlateCentre(ONE, X, Y, 20, 1);
        assertEquals(
                Math.sqrt(0.25 + 0.25),
                x(placed.of(forces(0.5, 100, 100, 100, 100))).standardUncertainty(),
                1e-12);
    }

    /** The law of propagation against 40,000 draws of the forces and places: both standard deviations within 2 %. */
    @Test
    void shouldStateTheScatterThatDrawsShow() {
        double[] true_ = {90, 40, 55, 15};
        double[] factors = {1, 2, 1, 0.5};
        CentreOfPressure stated = new PlateCentre(factors, X, Y, 20, 1.5).of(forces(0.8, true_));
        SplittableRandom random = new SplittableRandom(20260301);
        int n = 40_000;
        double[] squares = new double[2];
        for (int k = 0; k < n; k++) {
            double[] drawn = Arrays.stream(true_)
                    .map(f -> f + 0.8 * random.nextGaussian())
                    .toArray();
            double[] x =
                    Arrays.stream(X).map(p -> p + 1.5 * random.nextGaussian()).toArray();
            double[] y =
                    Arrays.stream(Y).map(p -> p + 1.5 * random.nextGaussian()).toArray();
            CentreOfPressure one = new PlateCentre(factors, x, y, 20, 0).of(forces(0, drawn));
            squares[0] += Math.pow(x(one).value() - x(stated).value(), 2);
            squares[1] += Math.pow(y(one).value() - y(stated).value(), 2);
        }
        assertEquals(1, Math.sqrt(squares[0] / n) / x(stated).standardUncertainty(), 0.02);
        assertEquals(1, Math.sqrt(squares[1] / n) / y(stated).standardUncertainty(), 0.02);
    }

    @Test
    void shouldSayNothingBelowTheLeastForceOrWithoutACell() {
        PlateCentre plate = new PlateCentre(ONE, X, Y, 20, 1);
        CentreOfPressure light = plate.of(forces(0.5, 5, 5, 5, 4.9));
        assertEquals("the plate carries less than 20 N", light.notMeasured());
        assertNull(light.x());
        assertNotNull(plate.of(forces(0.5, 5, 5, 5, 5)).x());
        List<@Nullable Quantity> gone = forces(0.5, 50, 50, 50, 50);
        gone.set(2, null);
        assertEquals("a cell under the plate gives no force", plate.of(gone).notMeasured());
        assertThrows(IllegalArgumentException.class, () -> new PlateCentre(ONE, X, new double[3], 20, 1));
        assertThrows(IllegalArgumentException.class, () -> new PlateCentre(ONE, X, Y, 0, 1));
    }
}

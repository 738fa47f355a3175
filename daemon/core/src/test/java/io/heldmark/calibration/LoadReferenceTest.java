package io.heldmark.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class LoadReferenceTest {
    /** The formula of Somigliana with the constants of WGS 84, computed by SciPy in double precision. */
    @Test
    void shouldGiveNormalGravity() {
        assertEquals(9.780325335900, Gravity.normal(0, 0), 1e-12);
        assertEquals(9.806197769373, Gravity.normal(45, 0), 1e-12);
        assertEquals(9.832184937859, Gravity.normal(90, 0), 1e-12);
        assertEquals(Gravity.normal(33, 0), Gravity.normal(-33, 0), 0);
        assertEquals(-3.086e-6, Gravity.normal(45, 1) - Gravity.normal(45, 0), 0.002e-6);
        assertThrows(IllegalArgumentException.class, () -> Gravity.normal(91, 0));
    }

    /** Exact by definition: CGPM 1901 and the international pound of 1959. */
    @Test
    void shouldKnowUnitsOfForce() {
        assertEquals(1, LoadReference.force("N", 0).newtonsPerUnit());
        assertEquals(9.80665, LoadReference.force("kgf", 0).newtonsPerUnit());
        assertEquals(4.4482216152605, LoadReference.force("lbf", 0).newtonsPerUnit());
        assertThrows(IllegalArgumentException.class, () -> LoadReference.force("stone", 0));
    }

    @Test
    void shouldTakeBuoyancyOffTheWeight() {
        LoadReference masses = LoadReference.massAt(45, 0, LoadReference.CONVENTIONAL_KG_M3, 0.001);
        assertEquals(1.5e-4, masses.buoyancyFraction(), 1e-12);
        assertEquals(9.806197769373 * (1 - 1.5e-4), masses.newtonsPerUnit(), 1e-9);
        assertEquals(Math.sqrt(1e-6 + 25e-10 + 2.25e-10), masses.relativeU(), 1e-12);
        double up = LoadReference.massAt(45, 2000, LoadReference.CONVENTIONAL_KG_M3, 0)
                .buoyancyFraction();
        assertEquals(0.98595 / 8000, up, 1e-9); // ISO 2533: density at 2000 m is 0.8216 of that at the sea.
    }

    @Test
    void shouldNotHideThatThePlaceIsUnknown() {
        LoadReference masses = LoadReference.massAnywhere(LoadReference.CONVENTIONAL_KG_M3, Double.NaN);
        assertTrue(masses.relativeU() > 0.0015);
        assertEquals(9.80665 * (1 - 1.5e-4), masses.newtonsPerUnit(), 1e-9);
    }
}

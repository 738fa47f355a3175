package io.heldmark.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

class QuickCheckTest {
    private static CalibrationReading reading(double appliedN, double counts) {
        return new CalibrationReading("1", "", true, appliedN, counts, 2);
    }

    private static QuickCheck check(double counts) throws CalibrationException {
        List<CalibrationReading> readings = List.of(reading(0, 90), reading(0, 110), reading(200, counts));
        return QuickCheck.of(readings, 0.01, 0.003, 0.004).get(0);
    }

    /** 2 sqrt(0.003^2 + 0.004^2) = 1 % of 200 N: 2 N and next to nothing for whole counts. */
    @Test
    void shouldHoldWithinBothUncertainties() throws Exception {
        QuickCheck good = check(100 + 20_190);
        assertEquals(1.9, good.differenceN(), 1e-9);
        assertEquals(2, good.limitN(), 1e-4);
        assertTrue(good.holds());
        assertFalse(check(100 + 20_210).holds());
        assertFalse(check(100 + 19_790).holds());
    }

    @Test
    void shouldKnowACellThatIsWiredTheOtherWayRound() throws Exception {
        List<CalibrationReading> readings = List.of(reading(0, 100), reading(200, -19_900));
        assertEquals(0, QuickCheck.of(readings, -0.01, 0.003, Double.NaN).get(0).differenceN(), 1e-9);
    }

    @Test
    void shouldNeedAZeroAndALoad() {
        assertThrows(CalibrationException.class, () -> QuickCheck.of(List.of(reading(0, 1)), 0.01, 0.003, 0));
        assertThrows(CalibrationException.class, () -> QuickCheck.of(List.of(reading(9, 1)), 0.01, 0.003, 0));
    }
}

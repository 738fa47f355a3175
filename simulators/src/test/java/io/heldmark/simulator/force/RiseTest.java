package io.heldmark.simulator.force;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.simulator.scenario.EffortSpec.ReleaseShape;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class RiseTest {
    private static final double STEP_S = 1e-5;

    static List<Rise> rises() {
        return List.of(
                Rise.Exponential.of(6, 0.25),
                Rise.Exponential.of(6, 0.8),
                Rise.Exponential.of(10, 0),
                Rise.Sigmoid.of(8),
                Rise.Power.of(5, 1),
                Rise.Power.of(5, 2.5),
                new Rise.Ramp(1.4, 0.15),
                new Rise.Lean(4, 1));
    }

    @ParameterizedTest
    @MethodSource("rises")
    void shouldStartAtZeroGrowWithoutFallingAndEndAtOne(Rise rise) {
        assertEquals(0, rise.value(0));
        assertEquals(0, rise.value(-1));
        double last = 0;
        for (double timeS = STEP_S; timeS < 6; timeS += 0.001) {
            double value = rise.value(timeS);
            assertTrue(value >= last && value <= 1, rise + " at " + timeS);
            last = value;
        }
        assertEquals(1, rise.value(60), 1e-9);
        assertTrue(rise.value(0.001) > 0, "leaves the rest at once");
    }

    @ParameterizedTest
    @MethodSource("rises")
    void shouldHaveTheStatedGreatestSlope(Rise rise) {
        double steepest = 0;
        for (double timeS = 0; timeS < 5; timeS += STEP_S) {
            steepest = Math.max(steepest, (rise.value(timeS + STEP_S) - rise.value(timeS)) / STEP_S);
        }
        assertEquals(rise.peakSlopePerS(), steepest, 2e-4 * rise.peakSlopePerS());
    }

    @ParameterizedTest
    @ValueSource(doubles = {1.5, 5, 12})
    void shouldHaveTheSlopeThatWasAskedFor(double slopePerS) {
        assertEquals(slopePerS, Rise.Exponential.of(slopePerS, 0.25).peakSlopePerS(), 1e-12);
        assertEquals(slopePerS, Rise.Sigmoid.of(slopePerS).peakSlopePerS(), 1e-12);
        assertEquals(slopePerS, Rise.Power.of(slopePerS, 2).peakSlopePerS(), 1e-12);
    }

    @ParameterizedTest
    @MethodSource("rises")
    void shouldBeAtNinetyFivePercentWhenItIsOver(Rise rise) {
        boolean ends = rise instanceof Rise.Ramp || rise instanceof Rise.Lean;
        assertEquals(ends ? 1 : 0.95, rise.value(rise.riseS()), 1e-9);
    }

    @ParameterizedTest
    @MethodSource("releases")
    void shouldReleaseFromOneToNothing(Release release) {
        assertEquals(1, release.left(0));
        double last = 1;
        for (double timeS = 0; timeS < release.endS() + 0.01; timeS += 0.001) {
            double left = release.left(timeS);
            assertTrue(left >= 0 && left <= last, release + " at " + timeS);
            last = left;
        }
        assertEquals(0, last);
    }

    static List<Release> releases() {
        return List.of(new Release(ReleaseShape.SMOOTH, 0.3), new Release(ReleaseShape.EXPONENTIAL, 0.5));
    }

    @Test
    void shouldHaveSmoothEndsOfSteps() {
        assertEquals(0.5, Curves.step(0.5));
        assertEquals(0, Curves.step(1e-4), 1.1e-11); // 10 u^3
        assertEquals(1, Curves.hump(0.5));
        assertEquals(0, Curves.hump(1));
    }
}

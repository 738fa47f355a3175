package io.heldmark.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

class CalibrationSeriesTest {
    private static final double ZERO = 4000;
    private static final double PER_KG = 1000;

    private static TakenReading reading(double counts, double applied) {
        return new TakenReading(counts, 3, 3000, 3, applied, false, "2026-03-01T10:00:00Z");
    }

    /** Takes the next step of a cell that is straight, under a load that may be another than the planned one. */
    private static void take(CalibrationSeries series, double kg) {
        series.take(
                reading(ZERO + PER_KG * kg, series.steps().get(series.done()).applied()));
    }

    private static CalibrationSeries begun(double... kg) {
        CalibrationSeries series =
                new CalibrationSeries(new SeriesPlan(List.of(5.0, 10.0, 20.0), true, 1, 1, false), "kg");
        for (double one : kg) {
            take(series, one);
        }
        return series;
    }

    private static List<String> newest(CalibrationSeries series) {
        return series.doubts(series.done() - 1);
    }

    private static void assertDoubt(CalibrationSeries series, String words) {
        List<String> doubts = newest(series);
        assertTrue(doubts.size() == 1 && doubts.get(0).contains(words), doubts::toString);
    }

    @Test
    void shouldGoUpAndDownInEveryMounting() {
        SeriesPlan plan = new SeriesPlan(List.of(5.0, 10.0), true, 2, 1, true);
        assertEquals(
                List.of(
                        "PRELOAD 1 10.0",
                        "READ 1 0.0 true",
                        "READ 1 5.0 true",
                        "READ 1 10.0 true",
                        "READ 1 5.0 false",
                        "READ 1 0.0 false",
                        "MOUNT 2 0.0",
                        "PRELOAD 2 10.0",
                        "READ 2 0.0 true",
                        "READ 2 5.0 true",
                        "READ 2 10.0 true",
                        "READ 2 5.0 false",
                        "READ 2 0.0 false"),
                plan.steps().stream()
                        .map(s -> s.kind() + " " + s.mounting() + " " + s.applied()
                                + (s.kind() == SeriesStep.Kind.READ ? " " + s.increasing() : ""))
                        .toList());
    }

    @Test
    void shouldRefuseLoadsThatDoNotGrow() {
        for (List<Double> loads :
                List.of(List.<Double>of(), List.of(0.0), List.of(5.0, 5.0), List.of(10.0, 5.0), List.of(5.0, -10.0))) {
            assertThrows(IllegalArgumentException.class, () -> new SeriesPlan(loads, true, 1, 1, true));
        }
        assertEquals(-10, new SeriesPlan(List.of(-5.0, -10.0), true, 1, 1, true).greatest());
    }

    @Test
    void shouldHandOverReadingsInNewtonsAndForgetWhatWasTakenBack() {
        CalibrationSeries series = begun(0, 5, 11);
        series.undo();
        take(series, 10);
        List<CalibrationReading> readings = series.readings(10);
        assertEquals(new CalibrationReading("1", "1", true, 0, 4000, 1), readings.get(0));
        assertEquals(new CalibrationReading("1", "1", true, 100, 14_000, 3), readings.get(2));
        assertEquals(List.of(), newest(series));
        assertEquals(2e-4 * 20 * PER_KG, series.toleranceCounts(), 1e-9);
        assertEquals(7.5, series.shown(11_500), 1e-9);
    }

    @Test
    void shouldBringTheReadingUnderAReferenceToThePlannedLoad() {
        CalibrationSeries series = begun(0);
        series.take(reading(ZERO + PER_KG * 5.1, 5.1));
        assertEquals(9000, series.readings(1).get(1).counts(), 1e-9);
        assertThrows(IllegalArgumentException.class, () -> series.take(reading(19_000, 10.6)));
        assertEquals(2, series.done());
    }

    @Test
    void shouldWaitForTheLoadToChange() {
        assertTrue(begun(0).unchanged(4020, 3));
        assertFalse(begun(0).unchanged(4040, 3));
        assertTrue(begun(0, 5).unchanged(9900, 3));
        assertFalse(begun(0, 5).unchanged(10_100, 3));
        assertFalse(begun().unchanged(4000, 3), "nothing was read before");
        CalibrationSeries mountedAnew =
                new CalibrationSeries(new SeriesPlan(List.of(5.0, 10.0), false, 2, 1, false), "kg");
        for (double kg : new double[] {0, 5, 10, 0, 0}) {
            take(mountedAnew, kg);
        }
        assertFalse(mountedAnew.unchanged(4000, 3), "the cell was mounted anew since");
    }

    @Test
    void shouldAskWhetherLoadsWereSwapped() {
        assertDoubt(begun(0, 5, 20), "This reads like 20 kg, not like 10 kg");
        assertDoubt(begun(0, 5, 10, 10), "This reads like 10 kg, not like 20 kg");
    }

    @Test
    void shouldAskWhetherTheLoadIsOnTheCell() {
        assertDoubt(begun(0, 0), "hardly moved");
        assertDoubt(begun(0, 5, 0), "as if nothing were on it");
    }

    @Test
    void shouldAskAboutALoadThatIsOffAndAZeroThatIsNone() {
        assertDoubt(begun(0, 5, 10.7), "7.0 % off");
        assertDoubt(begun(0, 5, 10, 20, 10, 5, 0.2), "1.0 % of the highest load away");
        assertEquals(List.of(), newest(begun(0, 5, 10, 20, 10, 5, 0.05)));
    }
}

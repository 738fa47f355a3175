package io.heldmark.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class CalibrationTest {
    private static final String HEADER = "run,mounting,direction,applied,counts\n";

    /** Three series up, one of them down again, in the scheme of ISO 376; figures worked out by hand from its formulas. */
    private static final String SERIES = HEADER
            + "1,a,up,0,10\n1,a,up,100,1012\n1,a,up,200,2010\n"
            + "2,a,up,0,12\n2,a,up,100,1013\n2,a,up,200,2014\n"
            + "3,b,up,0,8\n3,b,up,100,1006\n3,b,up,200,2004\n3,b,down,100,1011\n3,b,down,0,10\n";

    private static CalibrationResult evaluate(String csv, CalibrationRequest request) throws CalibrationException {
        return Calibration.of(
                CalibrationTable.read(csv.lines().toList(), request.reference().newtonsPerUnit()), request);
    }

    private static String refusal(String csv, CalibrationRequest request) {
        String message = assertThrows(CalibrationException.class, () -> evaluate(csv, request))
                .getMessage();
        assertFalse(message.contains("\n"));
        return message;
    }

    private static void assertRefused(String reason, String csv) {
        String message = refusal(csv, CalibrationRequest.line());
        assertTrue(message.contains(reason), message);
    }

    @Test
    void shouldStateTheFiguresOfEachLoad() throws Exception {
        CalibrationResult result = evaluate(SERIES, CalibrationRequest.line());
        LoadResult middle = result.loads().get(1);
        assertEquals(100, middle.loadN());
        assertEquals(4, middle.readings());
        assertEquals(100 * (1002 - 1001) / 1001.5, middle.repeatability().value(), 1e-9);
        assertEquals(100 * (1002 - 998) / 1000.0, middle.reproducibility().value(), 1e-9);
        assertEquals(100 * (1003 - 998) / 998.0, middle.reversibility().value(), 1e-9);
        assertEquals(100 * (10 - 8) / 1996.0, middle.zeroError().value(), 1e-9);
        double fitted = result.curve().counts(100) - 10;
        double mean = (1002 + 1001 + 998) / 3.0;
        assertEquals(100 * (mean - fitted) / fitted, middle.interpolationError().value(), 1e-9);
        LoadResult most = result.loads().get(2);
        assertFalse(most.reversibility().known());
        assertFalse(result.loads().get(0).repeatability().known());
    }

    @Test
    void shouldSayWhatIsBeyondALimit() throws Exception {
        CalibrationResult result = evaluate(SERIES, CalibrationRequest.line());
        CalibrationLimits strict = CalibrationLimits.DEFAULTS.with(Map.of("repeatability", 0.05));
        assertTrue(strict.sentences(result).stream().anyMatch(s -> s.startsWith("at 100 N: repeatability")));
        assertTrue(CalibrationLimits.DEFAULTS.sentences(result).stream().noneMatch(s -> s.contains("repeatability")));
        assertThrows(IllegalArgumentException.class, () -> strict.with(Map.of("beauty", 1.0)));
        assertThrows(IllegalArgumentException.class, () -> strict.with(Map.of("zero", 0.0)));
    }

    @Test
    void shouldTakeTheZeroOfEachRunOnRequest() throws Exception {
        CalibrationRequest request =
                new CalibrationRequest(1, true, LoadReference.force("N", 0.001), Double.NaN, false);
        CalibrationResult result = evaluate(
                SERIES.replace("2,a,up,0,12", "2,a,up,0,512")
                        .replace("2,a,up,100,1013", "2,a,up,100,1513")
                        .replace("2,a,up,200,2014", "2,a,up,200,2514"),
                request);
        assertEquals(0, result.coefficients().get(0).value(), 3);
        assertEquals(10, result.coefficients().get(1).value(), 0.03);
        String without = SERIES.replace("2,a,up,0,12\n", "");
        assertTrue(refusal(without, request).contains("run 2 has no reading at zero load"));
    }

    @Test
    void shouldAddTheUncertaintyOfTheLoads() throws Exception {
        CalibrationRequest known = CalibrationRequest.line().withReference(LoadReference.force("N", 0.01));
        LoadUncertainty with = evaluate(SERIES, known).loads().get(2).uncertainty();
        LoadUncertainty without =
                evaluate(SERIES, CalibrationRequest.line()).loads().get(2).uncertainty();
        assertEquals(2, with.loadsN(), 1e-12);
        double grown = with.standardUncertaintyN() * with.standardUncertaintyN() - 4;
        assertEquals(without.standardUncertaintyN() * without.standardUncertaintyN(), grown, 1e-9);
        assertTrue(with.coverageFactor() < without.coverageFactor());
        assertEquals(1.96, with.coverageFactor(), 0.05);
        List<String> notes = evaluate(SERIES, CalibrationRequest.line()).notes();
        assertTrue(notes.stream().anyMatch(n -> n.contains("was not stated")), notes.toString());
    }

    @Test
    void shouldRefuseWhatGivesNoCalibration() {
        assertRefused("at the same load of 50 N", HEADER + "1,a,up,50,500\n1,a,up,50,501\n1,a,up,50,502\n");
        assertRefused("one reading at the same load", HEADER + "1,a,up,50,500\n");
        assertRefused("the only loads are 0 N and 50 N", HEADER + "1,a,up,0,0\n1,a,up,50,502\n1,a,up,50,501\n");
        assertRefused("do not follow the loads", HEADER + "1,a,up,0,5\n1,a,up,50,7\n1,a,up,100,4\n1,a,up,150,6\n");
        assertRefused("no reading", HEADER);
        assertRefused("the file is empty", "");
        assertRefused("has no column counts", "run,direction,applied\n1,up,2\n");
        assertRefused("unknown column 'colour'", "run,direction,applied,counts,colour\n1,up,2,3,red\n");
        assertRefused("stands twice", "run,direction,applied,counts,run\n1,up,2,3,1\n");
        assertRefused("line 2: counts is not a number: 'x'", HEADER + "1,a,up,2,x\n");
        assertRefused("line 2: counts is not a number: 'NaN'", HEADER + "1,a,up,2,NaN\n");
        assertRefused("line 2: direction is up or down, not '2'", HEADER + "1,a,2,up,3\n");
        assertRefused("line 2: 6 cells, but the header has 5", HEADER + "1,a,up,2,5,30\n");
    }

    @Test
    void shouldRefuseSwappedColumns() {
        StringBuilder swapped = new StringBuilder(HEADER);
        for (int run = 1; run <= 3; run++) {
            for (int load = 0; load <= 400; load += 100) {
                swapped.append(run)
                        .append(",a,up,")
                        .append(120 + 987 * load + 3 * run)
                        .append(',')
                        .append(load)
                        .append('\n');
            }
        }
        assertRefused("look swapped", swapped.toString());
        CalibrationRequest sure = new CalibrationRequest(1, false, LoadReference.force("N", 0), Double.NaN, true);
        assertEquals(3 * 5, assertDoesRun(swapped.toString(), sure).readings());
    }

    private static CalibrationResult assertDoesRun(String csv, CalibrationRequest request) {
        return org.junit.jupiter.api.Assertions.assertDoesNotThrow(() -> evaluate(csv, request));
    }

    @Test
    void shouldRefuseLoadsBeyondTheCell() {
        CalibrationRequest small = new CalibrationRequest(1, false, LoadReference.force("N", 0), 150, false);
        String message = refusal(SERIES, small);
        assertTrue(message.contains("line 4: a load of 200 N is beyond the rated load of 150 N"), message);
    }

    @Test
    void shouldRefuseAParabolaThatTurnsBack() {
        StringBuilder csv = new StringBuilder(HEADER);
        for (int load = 0; load <= 500; load += 100) {
            csv.append("1,a,up,")
                    .append(load)
                    .append(',')
                    .append(10 * load - load * load / 90)
                    .append('\n');
        }
        assertTrue(
                refusal(csv.toString(), CalibrationRequest.line().withDegree(2)).contains("turns back"));
    }

    @Test
    void shouldPointAtASlipOfThePen() throws Exception {
        StringBuilder csv = new StringBuilder(HEADER);
        for (int i = 0; i < 12; i++) {
            int slip = i == 7 ? 900 : 0;
            csv.append("1,a,up,")
                    .append(50 * i)
                    .append(',')
                    .append(100 + 50 * i * 100 + i % 3 + slip)
                    .append('\n');
        }
        List<String> notes = evaluate(csv.toString(), CalibrationRequest.line()).notes();
        assertTrue(notes.stream().anyMatch(n -> n.startsWith("line 9: this reading lies far")), notes.toString());
    }

    @Test
    void shouldHandTheSignalPathItsCovariance() throws Exception {
        CalibrationResult result = evaluate(SERIES, CalibrationRequest.line());
        var cell = result.curve().cell(200, "plates", 0.002);
        double slope = result.coefficients().get(1).value();
        assertEquals(4, cell.covariance().size());
        assertEquals(
                result.coefficients().get(1).standardError() / slope,
                Math.sqrt(cell.covariance().get(3)),
                1e-12);
        assertEquals(200, cell.calibratedToN());
    }
}

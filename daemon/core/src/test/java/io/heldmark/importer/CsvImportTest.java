package io.heldmark.importer;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CsvImportTest {
    @TempDir
    Path folder;

    /** What a column gave. */
    private static final class Column {
        final List<Long> timesNs = new ArrayList<>();
        final List<Double> forcesN = new ArrayList<>();
        final List<Long> gapsAtNs = new ArrayList<>();
        long missing;
    }

    private List<Column> read(String text) throws IOException, CsvException {
        Path file = Files.writeString(folder.resolve("trace.csv"), text);
        try (CsvImport in = CsvImport.open(file)) {
            List<Column> columns = new ArrayList<>();
            in.columns().forEach(c -> columns.add(new Column()));
            in.readAll(batch -> take(columns.get(batch.channel), batch));
            return columns;
        }
    }

    private static void take(Column column, SampleBatch batch) {
        if (batch.has(SampleBatch.GAP_BEFORE)) {
            column.gapsAtNs.add(batch.timeNs[0]);
            column.missing += batch.missingBefore;
        }
        assertEquals(column.timesNs.size() + column.missing, batch.firstSampleIndex);
        for (int i = 0; i < batch.count; i++) {
            column.timesNs.add(batch.timeNs[i]);
            column.forcesN.add(batch.forceN[i]);
        }
    }

    /** A regular trace of a number of rows at 100 Hz; %d stands for the row in a row's end. */
    private static String rows(int count, String end) {
        StringBuilder text = new StringBuilder();
        for (int row = 0; row < count; row++) {
            text.append(row / 100.0)
                    .append(',')
                    .append(end.replace("%d", Integer.toString(row)))
                    .append('\n');
        }
        return text.toString();
    }

    @Test
    void shouldReadEverySampleInNewtons() throws Exception {
        List<Column> columns = read("\uFEFFtime_s,\"left [kgf]\",right[kgf]\r\n" + rows(10_000, "%d,-0.5\r"));
        for (int row = 0; row < 10_000; row++) {
            assertEquals(row * 10_000_000L, columns.get(0).timesNs.get(row));
            assertEquals(row * 9.80665, columns.get(0).forcesN.get(row));
            assertEquals(-0.5 * 9.80665, columns.get(1).forcesN.get(row));
        }
        assertEquals(List.of(), columns.get(0).gapsAtNs);
    }

    @Test
    void shouldKnowTheSizeOfAPoundForce() throws Exception {
        // 4.4482216152605 N is exact: NIST SP 811 (2008), appendix B.8, footnote.
        assertEquals(
                4.4482216152605,
                read("time_s,a[lbf]\n0,1\n0.01,1\n").get(0).forcesN.get(0),
                1e-15);
        assertEquals(
                1500.0, read("time_s,a[kN]\n0,1.5\n0.01,1\n").get(0).forcesN.get(0));
    }

    @Test
    void shouldMarkMissingTimesAndValuesAsGaps() throws Exception {
        String text = "time_s,a,b\n"
                + rows(30, "%d,%d").replace("0.05,5,5\n", ",5,5\n").replace("0.12,12,12", "0.12,,12") + "\n\n";
        List<Column> columns = read(text.replace("0.2,20,20\n", "").replace("0.21,21,21\n", ""));
        assertEquals(List.of(60_000_000L, 130_000_000L, 220_000_000L), columns.get(0).gapsAtNs);
        assertEquals(List.of(60_000_000L, 220_000_000L), columns.get(1).gapsAtNs);
        assertEquals(4, columns.get(0).missing);
        assertEquals(3, columns.get(1).missing);
        assertFalse(columns.get(0).forcesN.contains(Double.NaN));
    }

    @Test
    void shouldKeepTimesOfAnyAxis() throws Exception {
        Path file = folder.resolve("late.csv");
        Files.writeString(file, "time_s,a\n1760000000.001,1\n1760000000.002,2\n1760000000.003,3\n");
        try (CsvImport in = CsvImport.open(file)) {
            assertEquals(1_760_000_000_001_000_000L, in.originNs());
            assertEquals(1000, in.sampleRateHz());
            in.readAll(batch -> assertArrayEquals(new long[] {0, 1_000_000, 2_000_000}, firstTimes(batch)));
        }
        assertEquals(List.of(0L, 10_000_000L), read("time_s,a\n-0.01,1\n0,2\n").get(0).timesNs);
    }

    private static long[] firstTimes(SampleBatch batch) {
        return java.util.Arrays.copyOf(batch.timeNs, batch.count);
    }

    @Test
    void shouldFindWhatValuesResolve() throws Exception {
        Path file = Files.writeString(folder.resolve("a.csv"), "time_s,a,b\n0,12.3,1\n0.01,12.2,1\n0.02,12.5,1\n");
        try (CsvImport in = CsvImport.open(file)) {
            assertEquals(List.of(new CsvColumn("a", 0.1), new CsvColumn("b", 0)), in.columns());
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "'' | line 1: the file is empty",
                "'\n\n' | line 1: the file is empty",
                "'time_s,a\n' | line 1: no row of samples",
                "'time_s,a\n0,1\n' | line 2: one sample only",
                "'time_s\n0\n0.1\n' | line 1: a column of forces is missing",
                "'a,b\n0,1\n' | line 1: the column time_s (seconds) is missing",
                "'0,1\n0.1,1\n' | line 1: the column time_s (seconds) is missing",
                "'time_s;a\n0;1\n' | line 1: no commas in it; separate columns by commas",
                "'time_s,a[kgf],b\n0,1,1\n' | line 1: mixed units: a is in kgf, b in N; bring all columns to one unit",
                "'time_s,a[kg]\n0,1\n' | line 1: a is in [kg]: a mass is no force; write kgf",
                "'time_s,a[V]\n0,1\n' | line 1: a is in [V]: allowed are N, kN, kgf, lbf",
                "'time_s,a,a\n0,1,1\n' | line 1: two columns are called a",
                "'time_s,,a\n0,1,1\n' | line 1: column 2 has no name",
                "'time_s,a,b\n0,1,1\n0.01,1\n' | line 3: a column is missing: 2 of 3 cells are there",
                "'time_s,a\n0,1\n0,01,1,5\n' | line 3: more than the 2 cells that the header names; write decimals with a point",
                "'time_s,a\n0,1\n0.01,NaN\n' | line 3: a is \"NaN\", which is no number; leave the cell empty",
                "'time_s,a\n0,1\nx,1\n' | line 3: time_s is \"x\", which is no number",
                "'time_s,a\n0,1\n0.01,1 kgf\n' | line 3: a is \"1 kgf\", which is no number",
                "'time_s,a\n0,1\n0.01,1e10\n' | line 3: a is out of range",
                "'time_s,a\n0,1\n1e12,1\n' | line 3: time_s is out of range",
                "'time_s,a\n0,1\n0.01,1\n\n0.01,1\n' | line 5: time_s does not increase",
                "'time_s,a\n0,1\n0.01,1\n0.005,1\n' | line 4: time_s does not increase",
                "'time_s,a\n0,1\n1,1\n2,1\n' | line 3: sampled at 1.000 Hz; 10 to 20000 Hz can be used",
                "'time_s,a\n0,1\n0.01,1\n0.02,1\n0.03,1\n0.036,1\n' | line 6: irregular sampling: a step of 0.00600000 s",
            })
    void shouldRefuseInOneLineThatSaysWhereAndWhatToDo(String text, String why) {
        CsvException refused = assertThrows(CsvException.class, () -> read(text));
        String message = String.valueOf(refused.getMessage());
        assertTrue(message.startsWith(folder.resolve("trace.csv") + ": " + why), message);
        assertEquals(1, message.lines().count());
    }

    @Test
    void shouldRefuseFarDownWithTheRightLine() {
        String good = "time_s,a\n" + rows(20_000, "%d");
        assertMessage(good + "199.98,1\n", "line 20002: time_s does not increase");
        assertMessage(good + "200,1\n200.007,1\n", "line 20003: irregular sampling");
        assertMessage(good + "200,NaN\n", "line 20002: a is \"NaN\"");
        StringBuilder slower = new StringBuilder(good);
        for (int i = 0; i < 200; i++) {
            slower.append(200 + i / 50.0).append(",1\n");
        }
        assertMessage(
                slower.toString(), "line 20103: irregular sampling: a step of 0.0200000 s where 0.0100000 s is usual");
        assertMessage("time_s,a\n0,1\n" + "9".repeat(300_000) + "\n", "line 3: longer than");
    }

    private void assertMessage(String text, String why) {
        CsvException refused = assertThrows(CsvException.class, () -> read(text));
        assertTrue(String.valueOf(refused.getMessage()).contains(why), refused::getMessage);
    }
}

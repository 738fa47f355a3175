package io.heldmark.importer;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The first rows of a file, kept until it is known how the file is sampled. */
final class CsvHead {
    private static final int ROWS = 4096;
    private static final int DECIMALS_MAX = 9;

    private final CsvRows rows;
    private final long[] lines = new long[ROWS];
    private final long[] timesNs = new long[ROWS];
    private final double[][] forcesN = new double[ROWS][];
    private int count;
    private int decimals;

    private CsvHead(CsvRows rows) {
        this.rows = rows;
    }

    /** Reads the first rows that have a time; refuses a file without two of them. */
    static CsvHead read(CsvRows rows) throws IOException, CsvException {
        CsvHead head = new CsvHead(rows);
        while (head.count < ROWS && rows.next()) {
            if (rows.hasTime()) {
                head.keep();
            }
        }
        if (head.count == 0) {
            throw rows.refuse("no row of samples; rows of a time and forces are needed");
        }
        if (head.count == 1) {
            throw rows.refuse("one sample only; a trace is needed, 10 samples a second at least");
        }
        return head;
    }

    private void keep() throws CsvException {
        if (count > 0 && rows.timeNs() <= timesNs[count - 1]) {
            throw backwards(rows);
        }
        lines[count] = rows.line();
        timesNs[count] = rows.timeNs();
        forcesN[count] = rows.forces();
        // Times with an exponent, or of more digits than a double has, are written as exactly as they are known.
        decimals = Math.max(decimals, rows.timeDecimals() < 0 ? DECIMALS_MAX : rows.timeDecimals());
        count++;
    }

    /** Makes the refusal of a time that does not increase. */
    static CsvException backwards(CsvRows rows) {
        return rows.refuse(
                "time_s does not increase; sort the rows, write enough decimals, and leave each time in once");
    }

    int count() {
        return count;
    }

    long line(int row) {
        return lines[row];
    }

    long timeNs(int row) {
        return timesNs[row];
    }

    double forceN(int row, int column) {
        return forcesN[row][column];
    }

    /** Returns how the file is sampled. */
    SamplingGrid grid() {
        long[] steps = new long[count - 1];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = timesNs[i + 1] - timesNs[i];
        }
        long digitNs = decimals >= DECIMALS_MAX ? 0 : Math.round(StrictMath.pow(10, DECIMALS_MAX - decimals));
        return SamplingGrid.of(steps, digitNs);
    }

    /** Returns the columns with what their values resolve. */
    List<CsvColumn> columns(List<String> names) {
        List<CsvColumn> columns = new ArrayList<>();
        for (int column = 0; column < names.size(); column++) {
            columns.add(new CsvColumn(names.get(column), resolutionN(column)));
        }
        return columns;
    }

    private double resolutionN(int column) {
        double least = Double.POSITIVE_INFINITY;
        for (int i = 1; i < count; i++) {
            double step = Math.abs(forcesN[i][column] - forcesN[i - 1][column]);
            if (step > 0 && step < least) { // False for a missing value.
                least = step;
            }
        }
        // A difference of two decimals has the digits of neither: 0.1 comes as 0.0999999999999659.
        return Double.isInfinite(least)
                ? 0
                : new BigDecimal(least).round(new MathContext(6)).doubleValue();
    }

    /** Gives the rows free; they have been handed on. */
    void forget() {
        Arrays.fill(forcesN, null);
    }
}

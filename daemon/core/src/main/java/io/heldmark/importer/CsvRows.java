package io.heldmark.importer;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;

/**
 * The rows of a file, one by one through one buffer: memory does not grow with the file.
 *
 * <p>Lines end with a line feed, with or without a carriage return; empty lines are passed over. Nothing is allocated per
 * row. What is no number is refused with its line.
 */
final class CsvRows {
    /** Stands for a cell without a value; never leaves this package. */
    static final double MISSING = Double.NaN;

    private static final int BUFFER_BYTES = 1 << 18;
    private static final int SHOWN_CHARACTERS = 24;
    private static final double FORCE_MOST_N = 1e9;

    private final Path file;
    private final InputStream in;
    private final byte[] buffer = new byte[BUFFER_BYTES];
    private final DecimalCell cell = new DecimalCell();
    private final CsvHeader header;
    private final double[] forcesN;
    private final double scale;
    private int at;
    private int limit;
    private boolean ended;
    private long line;
    private int lineStart;
    private int lineEnd;
    private boolean hasTime;
    private long timeNs;
    private int timeDecimals;

    /** Reads the header. */
    CsvRows(Path file, InputStream in) throws IOException, CsvException {
        this.file = file;
        this.in = in;
        fill();
        String noText = TextCheck.refusal(buffer, limit);
        if (noText != null) {
            throw new CsvException(file, noText);
        }
        if (!nextLine()) {
            throw new CsvException(
                    file, 1, "the file is empty; " + CsvHeader.TIME + ",NAME and rows of numbers are needed");
        }
        header =
                CsvHeader.parse(file, line, new String(buffer, lineStart, lineEnd - lineStart, StandardCharsets.UTF_8));
        forcesN = new double[header.names().size()];
        scale = header.unit().newtons();
    }

    CsvHeader header() {
        return header;
    }

    /** Goes to the next row that is not empty; false at the end. */
    boolean next() throws IOException, CsvException {
        if (!nextLine()) {
            return false;
        }
        int i = takeTime();
        for (int column = 0; column < forcesN.length; column++) {
            if (i >= lineEnd) {
                throw refuse("a column is missing: " + (column + 1) + " of " + (forcesN.length + 1)
                        + " cells are there; an unknown value is an empty cell between commas");
            }
            int from = i + 1;
            i = cell.take(buffer, from, lineEnd);
            forcesN[column] = force(column, from, i);
        }
        if (i < lineEnd) {
            throw refuse("more than the " + (forcesN.length + 1)
                    + " cells that the header names; write decimals with a point, not a comma");
        }
        return true;
    }

    /** Returns the number of the line of this row, counted from 1. */
    long line() {
        return line;
    }

    /** Tells whether the row has a time. */
    boolean hasTime() {
        return hasTime;
    }

    /** Returns the row's time in nanoseconds. */
    long timeNs() {
        return timeNs;
    }

    /** Returns digits behind the point of the time, as written; -1 where it is not written so. */
    int timeDecimals() {
        return timeDecimals;
    }

    /** Returns a column's force in newtons; {@link #MISSING} where the cell is empty. */
    double forceN(int column) {
        return forcesN[column];
    }

    /** Makes a refusal of this row. */
    CsvException refuse(String what) {
        return new CsvException(file, line, what);
    }

    private int takeTime() throws CsvException {
        int i = cell.take(buffer, lineStart, lineEnd);
        hasTime = cell.kind() == DecimalCell.Kind.NUMBER;
        if (cell.kind() == DecimalCell.Kind.OTHER) {
            throw refuse(noNumber(CsvHeader.TIME, lineStart, i));
        }
        if (hasTime) {
            timeNs = cell.billionths();
            timeDecimals = cell.decimals();
            if (timeNs == Long.MIN_VALUE) {
                throw refuse("time_s is out of range; times are seconds, at most 9e9");
            }
        }
        return i;
    }

    private double force(int column, int from, int to) throws CsvException {
        if (cell.kind() == DecimalCell.Kind.EMPTY) {
            return MISSING;
        }
        if (cell.kind() == DecimalCell.Kind.OTHER) {
            throw refuse(noNumber(header.names().get(column), from, to));
        }
        double forceN = cell.value() * scale;
        if (Math.abs(forceN) > FORCE_MOST_N) {
            throw refuse(header.names().get(column) + " is out of range; at most 1e9 N");
        }
        return forceN;
    }

    private String noNumber(String name, int from, int to) {
        String text = new String(buffer, from, to - from, StandardCharsets.UTF_8).strip();
        String shown = text.length() > SHOWN_CHARACTERS ? text.substring(0, SHOWN_CHARACTERS) + "..." : text;
        return name + " is \"" + shown.replaceAll("\\p{Cntrl}", "?")
                + "\", which is no number; leave the cell empty where a sample is missing";
    }

    /** Finds the next line that is not empty, without its end; false at the end of the file. */
    private boolean nextLine() throws IOException, CsvException {
        while (true) {
            int feed = indexOfFeed();
            if (feed < 0 && at == limit) {
                return false;
            }
            line++;
            lineStart = at;
            lineEnd = feed < 0 ? limit : feed;
            at = feed < 0 ? limit : feed + 1;
            if (lineEnd > lineStart && buffer[lineEnd - 1] == '\r') {
                lineEnd--;
            }
            if (lineEnd > lineStart) {
                return true;
            }
        }
    }

    private int indexOfFeed() throws IOException, CsvException {
        int from = at;
        while (true) {
            for (int i = from; i < limit; i++) {
                if (buffer[i] == '\n') {
                    return i;
                }
            }
            int seen = limit - at;
            if (ended) {
                return -1;
            }
            fill();
            from = at + seen;
        }
    }

    private void fill() throws IOException, CsvException {
        if (at > 0) {
            System.arraycopy(buffer, at, buffer, 0, limit - at);
            limit -= at;
            at = 0;
        }
        if (limit == buffer.length) {
            throw new CsvException(file, line + 1, "longer than " + BUFFER_BYTES + " bytes; is this a text file?");
        }
        int read = in.read(buffer, limit, buffer.length - limit);
        ended = read < 0;
        limit += Math.max(0, read);
    }

    /** Copies the row's forces. */
    double[] forces() {
        return Arrays.copyOf(forcesN, forcesN.length);
    }
}

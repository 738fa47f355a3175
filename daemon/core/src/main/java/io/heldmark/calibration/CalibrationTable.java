package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * The table of readings that people write down while they calibrate: lines of comma-separated cells under a header with
 * {@code run}, {@code direction} ({@code up} or {@code down}), {@code applied}, {@code counts} and, where the cell was taken out
 * in between, {@code mounting}, in any order. Empty lines and lines that begin with # are left out.
 *
 * <p><b>Errors.</b> A cell that is no finite number, a line with too few cells, an unknown column or direction: refused, with the line.
 */
public final class CalibrationTable {
    private static final List<String> NEEDED = List.of("run", "direction", "applied", "counts");
    private static final String MOUNTING = "mounting";
    private static final String BYTE_ORDER_MARK = "\uFEFF";

    private final List<String> header;
    private final double newtonsPerUnit;

    private CalibrationTable(List<String> header, double newtonsPerUnit) {
        this.header = header;
        this.newtonsPerUnit = newtonsPerUnit;
    }

    /**
     * Reads a table.
     *
     * @param lines its lines.
     * @param newtonsPerUnit newtons in one unit of the column {@code applied}.
     * @throws CalibrationException saying in which line what is wrong.
     */
    public static List<CalibrationReading> read(List<String> lines, double newtonsPerUnit) throws CalibrationException {
        CalibrationTable table = null;
        List<CalibrationReading> readings = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            String line = i == 0 && lines.get(0).startsWith(BYTE_ORDER_MARK)
                    ? lines.get(0).substring(1)
                    : lines.get(i);
            if (line.isBlank() || line.startsWith("#")) {
                continue;
            }
            List<String> cells =
                    Arrays.stream(line.split(",", -1)).map(String::strip).toList();
            if (table == null) {
                table = new CalibrationTable(header(cells, i + 1), newtonsPerUnit);
            } else {
                readings.add(table.reading(cells, i + 1));
            }
        }
        if (table == null) {
            throw new CalibrationException("the file is empty; the header " + String.join(",", NEEDED)
                    + " and a line for each reading are needed");
        }
        return readings;
    }

    private static List<String> header(List<String> cells, int line) throws CalibrationException {
        List<String> names = cells.stream().map(c -> c.toLowerCase(Locale.ROOT)).toList();
        for (String name : NEEDED) {
            if (!names.contains(name)) {
                throw new CalibrationException("line " + line + ": the header has no column " + name + "; write "
                        + String.join(",", NEEDED) + " (and mounting where the cell was taken out)");
            }
        }
        for (String name : names) {
            if (!NEEDED.contains(name) && !name.equals(MOUNTING)) {
                throw new CalibrationException("line " + line + ": unknown column '" + name + "'; known are "
                        + String.join(", ", NEEDED) + " and mounting");
            }
            if (names.indexOf(name) != names.lastIndexOf(name)) {
                throw new CalibrationException("line " + line + ": column " + name + " stands twice");
            }
        }
        return names;
    }

    private CalibrationReading reading(List<String> cells, int line) throws CalibrationException {
        if (cells.size() != header.size()) {
            throw new CalibrationException("line " + line + ": " + cells.size() + " cells, but the header has "
                    + header.size() + "; decimals are written with a point");
        }
        String mounting = header.contains(MOUNTING) ? cells.get(header.indexOf(MOUNTING)) : "";
        boolean increasing = increasing(cells.get(header.indexOf("direction")), line);
        double appliedN = number(cells, "applied", line) * newtonsPerUnit;
        return new CalibrationReading(
                cells.get(header.indexOf("run")),
                mounting,
                increasing,
                appliedN == 0 ? 0 : appliedN,
                number(cells, "counts", line),
                line);
    }

    private static boolean increasing(String cell, int line) throws CalibrationException {
        return switch (cell.toLowerCase(Locale.ROOT)) {
            case "up", "increasing" -> true;
            case "down", "decreasing" -> false;
            default ->
                throw new CalibrationException(
                        "line " + line + ": direction is up or down, not '" + cell + "'; are the columns in order?");
        };
    }

    private double number(List<String> cells, String column, int line) throws CalibrationException {
        String cell = cells.get(header.indexOf(column));
        try {
            double value = Double.parseDouble(cell);
            if (Math.abs(value) <= 1e15) {
                return value;
            }
        } catch (NumberFormatException e) {
            // Said below, as for what is too large.
        }
        throw new CalibrationException("line " + line + ": " + column + " is not a number: '" + cell + "'");
    }
}

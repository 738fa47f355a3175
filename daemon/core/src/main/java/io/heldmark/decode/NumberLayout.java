package io.heldmark.decode;

import io.heldmark.config.ConfigException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;

/**
 * How a board that prints numbers lays out its lines: what the user declares, because the board cannot say it.
 *
 * @param delimiter byte between two columns.
 * @param columns columns of a line, in order.
 * @param rateHz nominal rate of lines, in hertz; the true one is taken from the arrivals.
 */
public record NumberLayout(byte delimiter, List<Column> columns, double rateHz) {
    /** Options of a link address that declare a layout. */
    public static final List<String> OPTIONS = List.of("columns", "delimiter", "rate");

    static final int MOST_COLUMNS = 16;
    static final int MOST_CHANNELS = 8;

    private static final Map<String, Character> DELIMITERS =
            Map.of("comma", ',', "semicolon", ';', "tab", '\t', "space", ' ');
    private static final Pattern NAME = Pattern.compile("[A-Za-z][A-Za-z0-9_-]{0,23}");

    /**
     * A column.
     *
     * @param name name of the channel; empty where it has none.
     * @param unit what its numbers are; absent columns, which may hold anything, have none.
     */
    record Column(String name, NumberUnit unit, boolean used) {
        private static final Column SKIPPED = new Column("", NumberUnit.COUNTS, false);
    }

    /** Copies the columns. */
    public NumberLayout {
        columns = List.copyOf(columns);
    }

    /**
     * Reads a layout from the options of a link.
     *
     * @throws ConfigException naming key, value and what is allowed.
     */
    public static NumberLayout of(Map<String, String> options) {
        String name = options.getOrDefault("delimiter", "comma");
        Character delimiter = DELIMITERS.get(name);
        if (delimiter == null) {
            throw new ConfigException("delimiter", name, "comma, semicolon, tab or space");
        }
        String text = options.getOrDefault("columns", "counts");
        return new NumberLayout((byte) (char) delimiter, columns(text), rate(options.getOrDefault("rate", "")));
    }

    /** Tells whether a column is in a unit of force, so that the board has calibrated it itself. */
    public boolean saysForce() {
        return columns.stream().anyMatch(c -> c.used() && c.unit() != NumberUnit.COUNTS);
    }

    private static List<Column> columns(String text) {
        List<Column> columns = new ArrayList<>();
        for (String one : text.split(",", -1)) {
            columns.add(one.equals("-") ? Column.SKIPPED : column(one, text));
        }
        long used = columns.stream().filter(Column::used).count();
        if (used < 1 || used > MOST_CHANNELS || columns.size() > MOST_COLUMNS) {
            throw new ConfigException(
                    "columns", text, "1 to " + MOST_CHANNELS + " columns of numbers, " + MOST_COLUMNS + " in all");
        }
        return columns;
    }

    private static Column column(String one, String text) {
        int colon = one.indexOf(':');
        String name = colon < 0 ? "" : one.substring(0, colon);
        for (NumberUnit unit : NumberUnit.values()) {
            if (unit.text.equals(one.substring(colon + 1))
                    && (colon < 0 || NAME.matcher(name).matches())) {
                return new Column(name, unit, true);
            }
        }
        throw new ConfigException(
                "columns",
                text,
                "parted by commas: UNIT or NAME:UNIT, where UNIT is counts, N, kN, kg, g or lbf; - for a column to skip");
    }

    private static double rate(String text) {
        double rateHz = text.matches("[0-9]{1,6}(\\.[0-9]{1,6})?") ? Double.parseDouble(text) : Double.NaN;
        if (rateHz >= 1 && rateHz <= 10_000) {
            return rateHz;
        }
        throw new ConfigException(
                "rate", text, "lines a second, a number from 1 to 10000; the board cannot say it itself");
    }
}

package io.heldmark.importer;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * The first line of a file: {@code time_s,NAME[,NAME...]}, a name with its unit in brackets where that is not newton.
 *
 * @param names the columns' names, without units.
 * @param unit the unit of all of them.
 */
record CsvHeader(List<String> names, ForceUnit unit) {
    static final String TIME = "time_s";
    private static final int COLUMNS_MAX = 64;
    private static final String FORM = "the first line names the columns: time_s,NAME or time_s,NAME[kgf] and so on";

    /** Copies the list. */
    CsvHeader {
        names = List.copyOf(names);
    }

    /** Reads the line or refuses it. */
    static CsvHeader parse(Path file, long line, String text) throws CsvException {
        String plain = text.startsWith("\uFEFF") ? text.substring(1) : text; // The mark that spreadsheets put first.
        String[] cells = plain.split(",", -1);
        String first = cell(cells[0]);
        if (cells.length == 1 && (plain.indexOf(';') >= 0 || plain.indexOf('\t') >= 0)) {
            throw new CsvException(
                    file, line, "no commas in it; separate columns by commas and write decimals with a point");
        }
        if (!first.equals(TIME)) {
            throw new CsvException(file, line, "the column time_s (seconds) is missing: " + FORM);
        }
        if (cells.length == 1) {
            throw new CsvException(file, line, "a column of forces is missing: " + FORM);
        }
        if (cells.length - 1 > COLUMNS_MAX) {
            throw new CsvException(file, line, "more than " + COLUMNS_MAX + " columns of forces; take some out");
        }
        return columns(file, line, cells);
    }

    private static CsvHeader columns(Path file, long line, String[] cells) throws CsvException {
        List<String> names = new ArrayList<>();
        ForceUnit unit = null;
        String unitOf = "";
        for (int i = 1; i < cells.length; i++) {
            String cell = cell(cells[i]);
            int bracket = cell.endsWith("]") ? cell.lastIndexOf('[') : -1;
            String name = (bracket < 0 ? cell : cell.substring(0, bracket)).strip();
            String symbol = bracket < 0 ? "N" : cell.substring(bracket + 1, cell.length() - 1);
            ForceUnit own = ForceUnit.of(symbol.strip());
            if (name.isEmpty()) {
                throw new CsvException(file, line, "column " + (i + 1) + " has no name: " + FORM);
            }
            if (own == null) {
                throw new CsvException(file, line, unknownUnit(name, symbol));
            }
            if (names.contains(name)) {
                throw new CsvException(file, line, "two columns are called " + name + "; give each a name of its own");
            }
            if (unit != null && unit != own) {
                throw new CsvException(
                        file,
                        line,
                        "mixed units: " + unitOf + " is in " + unit.symbol() + ", " + name + " in " + own.symbol()
                                + "; bring all columns to one unit");
            }
            unit = own;
            unitOf = name;
            names.add(name);
        }
        return new CsvHeader(names, unit == null ? ForceUnit.NEWTON : unit);
    }

    private static String unknownUnit(String name, String symbol) {
        String hint = symbol.equals("kg") || symbol.equals("lb")
                ? "a mass is no force; write " + symbol + "f if the sensor shows its force that way"
                : "allowed are N, kN, kgf, lbf";
        return name + " is in [" + symbol + "]: " + hint;
    }

    private static String cell(String raw) {
        String text = raw.strip();
        boolean quoted = text.length() >= 2 && text.startsWith("\"") && text.endsWith("\"");
        return quoted ? text.substring(1, text.length() - 1).strip() : text;
    }
}

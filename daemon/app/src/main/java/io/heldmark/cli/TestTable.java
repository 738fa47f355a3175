package io.heldmark.cli;

import io.heldmark.metric.JointTorque;
import io.heldmark.metric.JointTorque.Action;
import io.heldmark.metric.JointTorque.Origin;
import io.heldmark.metric.StatedTest;
import io.heldmark.metric.StatedTest.Mode;
import io.heldmark.metric.StatedTest.Movement;
import io.heldmark.metric.TestBook;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.pipeline.ConditionFields;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;

/**
 * A table of the tests that an input holds: a CSV file with one row for each test. {@code docs/how-to/compare-tests.md} has the
 * columns.
 *
 * @param rows the rows.
 */
record TestTable(List<Row> rows) {
    private static final Set<String> OWN = Set.of(
            "test",
            "input",
            "from_s",
            "to_s",
            "mode",
            "muscle",
            "action",
            "speed_deg_per_s",
            "hip",
            "arrangement",
            "limb",
            "torque_nm",
            "torque_u_nm");
    private static final double TIME_MOST_S = 1e9;

    /**
     * One row: a test of the input, or a torque that another device measured.
     *
     * @param input name of the file that it holds for; empty: every one.
     * @param test the test; absent where a torque is given.
     * @param imported the torque; absent where the trials are in the input.
     */
    record Row(String input, @Nullable StatedTest test, TestBook.@Nullable Imported imported) {
        String name() {
            return test != null ? test.name() : imported != null ? imported.test() : "";
        }

        boolean holdsFor(Path file) {
            return input.isEmpty() || input.equals(String.valueOf(file.getFileName()));
        }
    }

    /** Copies the list. */
    TestTable {
        rows = List.copyOf(rows);
    }

    /** Reads a table; {@code base} is what was said of all trials. */
    static TestTable read(Path file, TestConditions base) {
        List<String> lines;
        try {
            lines = Files.readAllLines(file, StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new BadInputException("--tests " + file + ": cannot be read: " + e.getMessage(), e);
        }
        if (lines.isEmpty()) {
            throw new BadInputException(file + ": line 1: the first line names the columns; test is one of them");
        }
        List<String> columns = columns(file, lines.get(0));
        List<Row> rows = new ArrayList<>();
        for (int i = 1; i < lines.size(); i++) {
            if (!lines.get(i).isBlank()) {
                rows.add(row(file, i + 1, columns, lines.get(i), base));
            }
        }
        checkOverlap(file, rows);
        return new TestTable(rows);
    }

    private static List<String> columns(Path file, String line) {
        List<String> columns = new ArrayList<>();
        for (String cell : line.replace("\uFEFF", "").split(",", -1)) {
            String name = cell.strip();
            if (!OWN.contains(name) && !ConditionFields.names().contains(name)) {
                Set<String> known = new TreeSet<>(OWN);
                known.addAll(ConditionFields.names());
                throw new BadInputException(
                        file + ": line 1: there is no column " + name + "; known are " + String.join(", ", known));
            }
            columns.add(name);
        }
        if (!columns.contains("test")) {
            throw new BadInputException(file + ": line 1: the column test (the test's name) is missing");
        }
        return columns;
    }

    private static Row row(Path file, int line, List<String> columns, String text, TestConditions base) {
        String[] cells = text.split(",", -1);
        String at = file + ": line " + line + ": ";
        if (cells.length != columns.size()) {
            throw new BadInputException(at + cells.length + " cells, but " + columns.size() + " columns");
        }
        Map<String, String> said = new LinkedHashMap<>();
        for (int i = 0; i < cells.length; i++) {
            if (!cells[i].isBlank()) {
                said.put(columns.get(i), cells[i].strip());
            }
        }
        String name = said.getOrDefault("test", "");
        if (name.isEmpty()) {
            throw new BadInputException(at + "the test has no name");
        }
        UnaryOperator<String> where = column -> at + column;
        Movement movement = movement(said, where);
        TestConditions conditions = worked(new ConditionFields(said, where).of(base), movement.action());
        String input = said.getOrDefault("input", "");
        return said.containsKey("torque_nm")
                ? new Row(input, null, new TestBook.Imported(name, torque(said, at, movement, conditions)))
                : new Row(input, test(said, at, name, movement, conditions), null);
    }

    private static StatedTest test(
            Map<String, String> said, String at, String name, Movement movement, TestConditions conditions) {
        if (said.containsKey("limb") || said.containsKey("torque_u_nm")) {
            throw new BadInputException(at + "limb and torque_u_nm belong to a torque_nm, which is not there");
        }
        long fromNs = timeNs(said, at, "from_s", Long.MIN_VALUE);
        long toNs = timeNs(said, at, "to_s", Long.MAX_VALUE);
        if (fromNs >= toNs) {
            throw new BadInputException(at + "to_s must be later than from_s");
        }
        String mode = said.get("mode");
        return new StatedTest(
                name,
                fromNs,
                toNs,
                mode == null ? Mode.UNKNOWN : ConditionFields.word(Mode.class, at + "mode", mode),
                movement,
                conditions);
    }

    private static JointTorque torque(
            Map<String, String> said, String at, Movement movement, TestConditions conditions) {
        if (said.containsKey("from_s") || said.containsKey("to_s") || said.containsKey("mode")) {
            throw new BadInputException(
                    at + "a torque_nm is another device's: from_s, to_s and mode do not belong to it");
        }
        double value = ConditionFields.number(at + "torque_nm", said.getOrDefault("torque_nm", ""), -2000, 2000);
        double u = ConditionFields.number(at + "torque_u_nm", said.getOrDefault("torque_u_nm", ""), 1e-6, 2000);
        Limb limb = ConditionFields.word(Limb.class, at + "limb", said.getOrDefault("limb", ""));
        return new JointTorque(
                MetricValue.of("torque.peak.mean", value, u, "N·m"),
                limb,
                movement.muscle(),
                conditions,
                movement.hipPosture(),
                movement.arrangement(),
                movement.action(),
                movement.speedDegPerS(),
                Origin.IMPORTED_ISOKINETIC,
                "");
    }

    private static Movement movement(Map<String, String> said, UnaryOperator<String> where) {
        String action = said.get("action");
        String speed = said.get("speed_deg_per_s");
        return new Movement(
                said.getOrDefault("muscle", ""),
                action == null ? Action.UNKNOWN : ConditionFields.word(Action.class, where.apply("action"), action),
                speed == null ? Double.NaN : ConditionFields.number(where.apply("speed_deg_per_s"), speed, 0, 1000),
                said.getOrDefault("hip", ""),
                said.getOrDefault("arrangement", ""));
    }

    /** An action says how the muscle worked; where only that is said it need not be said twice. */
    private static TestConditions worked(TestConditions c, Action action) {
        if (c.effortType() != EffortType.UNKNOWN || (action != Action.ISOMETRIC && action != Action.ECCENTRIC)) {
            return c;
        }
        return c.toBuilder()
                .effortType(action == Action.ISOMETRIC ? EffortType.ISOMETRIC : EffortType.ECCENTRIC)
                .build();
    }

    private static long timeNs(Map<String, String> said, String at, String column, long open) {
        String text = said.get(column);
        return text == null
                ? open
                : Math.round(1e9 * ConditionFields.number(at + column, text, -TIME_MOST_S, TIME_MOST_S));
    }

    private static void checkOverlap(Path file, List<Row> rows) {
        for (int i = 0; i < rows.size(); i++) {
            for (int k = 0; k < i; k++) {
                Row a = rows.get(k);
                Row b = rows.get(i);
                boolean meet =
                        a.input().isEmpty() || b.input().isEmpty() || a.input().equals(b.input());
                if (meet && overlap(a, b)) {
                    throw new BadInputException(
                            file + ": the tests " + a.name() + " and " + b.name() + " overlap; a trial is of one test");
                }
            }
        }
    }

    private static boolean overlap(Row a, Row b) {
        StatedTest s = a.test();
        StatedTest t = b.test();
        if (s == null || t == null) {
            return false;
        }
        return s.fromNs() < t.toNs() && t.fromNs() < s.toNs();
    }
}

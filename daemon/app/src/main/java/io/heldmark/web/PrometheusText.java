package io.heldmark.web;

import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;

/**
 * Writes figures in the Prometheus text exposition format, version 0.0.4.
 *
 * <p>All samples of one name are written together under one HELP and one TYPE line, whatever the order of the calls, as
 * the format asks.
 *
 * <p>Source: Prometheus documentation, "Exposition formats", text-based format.
 */
public final class PrometheusText {
    private final Map<String, StringBuilder> families = new LinkedHashMap<>();
    private final Set<String> written = new HashSet<>();

    /** Writes a figure that only grows; its name ends in {@code _total}. */
    public void counter(String name, String help, String labels, double value) {
        if (!name.endsWith("_total")) {
            throw new IllegalArgumentException("a counter's name ends in _total: name=" + name);
        }
        sample(name, "counter", help, name, labels, value);
    }

    /** Writes a count that only grows; its name ends in {@code _total}. */
    public void counter(String name, String help, String labels, long count) {
        counter(name, help, labels, (double) count);
    }

    /** Writes a figure that goes up and down; one that is not a number is left out. */
    public void gauge(String name, String help, String labels, double value) {
        if (!Double.isNaN(value)) {
            sample(name, "gauge", help, name, labels, value);
        }
    }

    /** Writes one quantile of a summary, 0 to 1. */
    public void quantile(String name, String help, double quantile, double value) {
        sample(name, "summary", help, name, label("quantile", number(quantile)), value);
    }

    /** Writes the count and the sum of a summary. */
    public void summary(String name, String help, double sum, long count) {
        sample(name, "summary", help, name + "_sum", "", sum);
        sample(name, "summary", help, name + "_count", "", (double) count);
    }

    /** Returns {@code name="value"} with the value escaped. */
    public static String label(String name, String value) {
        return name + "=\"" + value.replace("\\", "\\\\").replace("\"", "\\\"").replace("\n", "\\n") + "\"";
    }

    /** Returns the whole text. */
    public String text() {
        return String.join("", families.values());
    }

    private void sample(String family, String type, String help, String name, String labels, double value) {
        StringBuilder out = families.computeIfAbsent(
                family, f -> new StringBuilder("# HELP " + f + " " + help + "\n# TYPE " + f + " " + type + "\n"));
        String series = labels.isEmpty() ? name : name + "{" + labels + "}";
        if (!written.add(series)) {
            throw new IllegalArgumentException("the same series twice: " + series);
        }
        out.append(series).append(' ').append(number(value)).append('\n');
    }

    private static String number(double value) {
        if (value == Math.rint(value) && Math.abs(value) < 1e15) {
            return Long.toString((long) value);
        }
        if (Double.isInfinite(value)) {
            return value > 0 ? "+Inf" : "-Inf";
        }
        return Double.toString(value);
    }
}

package io.heldmark.filter;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Reads the vectors that {@code daemon/core/src/test/scripts/make_filter_vectors.py} made with SciPy 1.10.1:
 * {@code /usr/bin/python3 daemon/core/src/test/scripts/make_filter_vectors.py}.
 */
final class FilterVectors {
    /**
     * One row: the design, then what the file holds of it.
     *
     * @param label word or number after the design.
     * @param numbers the rest of the row.
     */
    record Case(
            String design,
            double orderOrQ,
            double frequencyHz,
            double sampleRateHz,
            String label,
            List<Double> numbers) {
        double[] values() {
            return numbers.stream().mapToDouble(Double::doubleValue).toArray();
        }

        BiquadCascade filter() {
            return design.equals("notch")
                    ? Notch.at(frequencyHz, orderOrQ, sampleRateHz)
                    : Butterworth.lowPass((int) orderOrQ, frequencyHz, sampleRateHz);
        }

        @Override
        public String toString() {
            return design + " " + orderOrQ + " at " + frequencyHz + " Hz of " + sampleRateHz + " Hz, " + label;
        }
    }

    private FilterVectors() {}

    static List<Case> cases(String file) {
        List<Case> cases = new ArrayList<>();
        for (String[] f : rows(file)) {
            List<Double> numbers =
                    Arrays.stream(f, 5, f.length).map(Double::valueOf).toList();
            cases.add(new Case(f[0], num(f[1]), num(f[2]), num(f[3]), f[4], numbers));
        }
        return cases;
    }

    static double[] signal() {
        return rows("signal.csv").stream().mapToDouble(f -> num(f[0])).toArray();
    }

    private static double num(String text) {
        return Double.parseDouble(text);
    }

    private static List<String[]> rows(String file) {
        try (InputStream in = FilterVectors.class.getResourceAsStream("/filter/" + file)) {
            if (in == null) {
                throw new IllegalStateException("missing test resource /filter/" + file);
            }
            String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            // The first line says who made the file, the second names the columns.
            return text.lines().skip(2).map(line -> line.split(",", -1)).toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

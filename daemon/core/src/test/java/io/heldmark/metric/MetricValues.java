package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.Window;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Map;

/** Expected values of {@code make_metric_values.py}, and a metric's value, uncertainty or reason. */
final class MetricValues {
    private static final Map<String, Double> EXPECTED = read();

    private MetricValues() {}

    static double expected(String name) {
        Double value = EXPECTED.get(name);
        assertNotNull(value, name);
        return value;
    }

    static Quantity quantity(Metric m, Window w) {
        MetricValue v = m.compute(w);
        assertNotNull(v.quantity(), m.id() + ": " + v.notComputed());
        return v.quantity();
    }

    static double value(Metric m, Window w) {
        return quantity(m, w).value();
    }

    static double uncertainty(Metric m, Window w) {
        return quantity(m, w).standardUncertainty();
    }

    static String reason(Metric m, Window w) {
        MetricValue v = m.compute(w);
        assertNull(v.quantity(), m.id());
        return v.notComputed();
    }

    private static Map<String, Double> read() {
        Map<String, Double> values = new HashMap<>();
        try (InputStream in = MetricValues.class.getResourceAsStream("/metric/metric_values.csv")) {
            String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            text.lines().skip(1).forEach(line -> {
                int comma = line.indexOf(',');
                values.put(line.substring(0, comma), Double.parseDouble(line.substring(comma + 1)));
            });
            return values;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

/** Expected text written by hand from the Prometheus documentation, "Exposition formats". */
class PrometheusTextTest {
    @Test
    void shouldKeepTheSamplesOfOneNameTogether() {
        PrometheusText out = new PrometheusText();
        out.counter("a_total", "Counted.", PrometheusText.label("link", "serial:\"x\"\\\n"), 3);
        out.gauge("b", "Measured.", "", 0.25);
        out.gauge("b_unknown", "Not known.", "", Double.NaN);
        out.counter("a_total", "Counted.", PrometheusText.label("link", "y"), 4.5);
        out.quantile("c_seconds", "Spread.", 0.5, 0.001);
        out.summary("c_seconds", "Spread.", 2, 1000);
        out.gauge("d", "Infinite.", "", Double.POSITIVE_INFINITY);
        assertEquals("""
                # HELP a_total Counted.
                # TYPE a_total counter
                a_total{link="serial:\\"x\\"\\\\\\n"} 3
                a_total{link="y"} 4.5
                # HELP b Measured.
                # TYPE b gauge
                b 0.25
                # HELP c_seconds Spread.
                # TYPE c_seconds summary
                c_seconds{quantile="0.5"} 0.001
                c_seconds_sum 2
                c_seconds_count 1000
                # HELP d Infinite.
                # TYPE d gauge
                d +Inf
                """, out.text());
    }

    @Test
    void shouldRefuseTheSameSeriesTwiceAndACounterWithoutTotal() {
        PrometheusText out = new PrometheusText();
        out.gauge("b", "Measured.", "", 1);
        assertThrows(IllegalArgumentException.class, () -> out.gauge("b", "Measured.", "", 2));
        assertThrows(IllegalArgumentException.class, () -> out.counter("a", "Counted.", "", 1));
    }
}

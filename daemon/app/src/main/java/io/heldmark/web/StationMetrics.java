package io.heldmark.web;

import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.pipeline.Station;
import java.util.List;

/** The station's own figures for {@code GET /metrics}. */
final class StationMetrics {
    private static final List<String> STATES = List.of("connecting", "waiting", "streaming", "lost", "fault");

    private StationMetrics() {}

    /** Writes the figures. */
    static void write(Station station, PrometheusText out) {
        station.linkHealth().forEach(link -> writeLink(link, out));
        writeRecording(station.recording(), out);
        out.gauge("heldmark_channels", "Channels known.", "", station.channels().size());
        out.gauge(
                "heldmark_viewers",
                "Viewers watching.",
                "",
                station.live().viewers().size());
    }

    private static void writeLink(LinkHealth link, PrometheusText out) {
        String name = PrometheusText.label("link", link.link());
        for (String state : STATES) {
            out.gauge(
                    "heldmark_link_state",
                    "1 for the state that the link is in.",
                    name + "," + PrometheusText.label("state", state),
                    state.equals(link.state()) ? 1 : 0);
        }
        out.counter("heldmark_link_samples_total", "Samples received per channel.", name, link.samples());
        out.counter("heldmark_link_lost_samples_total", "Samples known to be missing.", name, link.lostSamples());
        out.counter("heldmark_link_skipped_bytes_total", "Bytes of no usable message.", name, link.skippedBytes());
        out.counter("heldmark_link_crc_failures_total", "Frames whose check failed.", name, link.crcFailures());
        out.counter("heldmark_link_duplicates_total", "Frames received twice.", name, link.duplicates());
        out.counter("heldmark_link_reordered_total", "Frames received late.", name, link.reordered());
        out.counter("heldmark_link_reconnects_total", "Times the link came back.", name, link.reconnects());
        out.counter(
                "heldmark_link_clock_restarts_total",
                "Times the clock estimate restarted.",
                name,
                link.clockRestarts());
        out.gauge("heldmark_link_sample_rate_hertz", "Measured sample rate.", name, link.sampleRateHz());
        out.gauge("heldmark_link_arrival_jitter_seconds", "Arrival jitter.", name, link.arrivalJitterNs() / 1e9);
        out.gauge(
                "heldmark_link_time_uncertainty_seconds",
                "Standard uncertainty of aligned times.",
                name,
                link.timeStandardUncertaintyNs() / 1e9);
        out.gauge("heldmark_link_clock_skew_ppm", "Device clock against the station's.", name, link.clockSkewPpm());
        if (link.batteryPercent() >= 0) {
            out.gauge("heldmark_link_charge_percent", "Charge of the cell.", name, link.batteryPercent());
        }
        out.gauge("heldmark_link_temperature_celsius", "Temperature of the cell.", name, link.temperatureC());
    }

    private static void writeRecording(RecordingState recording, PrometheusText out) {
        out.gauge(
                "heldmark_recording_on",
                "1 while recording.",
                "",
                recording.state().equals("on") ? 1 : 0);
        out.gauge(
                "heldmark_recording_failed",
                "1 after it failed.",
                "",
                recording.state().equals("failed") ? 1 : 0);
        out.gauge("heldmark_recording_bytes", "Bytes of the recording.", "", (double) recording.bytes());
    }
}

package io.heldmark.web;

import io.heldmark.live.LatencyMeter;
import io.heldmark.live.LatencySummary;
import io.heldmark.live.LiveFanout;
import io.heldmark.model.Counter;
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
        for (Counter counter : Counter.values()) {
            out.counter(
                    "heldmark_" + counter.metricName(),
                    "Counted since the start; see docs/live-protocol.md.",
                    "",
                    station.counters().get(counter));
        }
        LiveFanout live = station.live();
        writeLatency(
                "heldmark_arrival_to_decoded_seconds",
                "From arrival of bytes to results.",
                live.arrivalToDecoded(),
                out);
        writeLatency(
                "heldmark_arrival_to_sent_seconds",
                "From arrival of bytes to the end of the send.",
                live.arrivalToSent(),
                out);
        writeLatency(
                "heldmark_arrival_to_painted_seconds",
                "From arrival of bytes to the viewer's word that it has drawn.",
                live.arrivalToPainted(),
                out);
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
        out.counter("heldmark_link_reordered_total", "Frames that came too late.", name, link.reordered());
        out.counter("heldmark_link_put_back_total", "Late frames put into their places.", name, link.putBack());
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

    private static void writeLatency(String name, String help, LatencyMeter meter, PrometheusText out) {
        LatencySummary total = meter.total();
        if (total.count() > 0) {
            out.quantile(name, help, 0.5, total.p50Ns() / 1e9);
            out.quantile(name, help, 0.95, total.p95Ns() / 1e9);
            out.quantile(name, help, 0.99, total.p99Ns() / 1e9);
            out.quantile(name, help, 1, total.maxNs() / 1e9);
        }
        out.summary(name, help, total.meanNs() * total.count() / 1e9, total.count());
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

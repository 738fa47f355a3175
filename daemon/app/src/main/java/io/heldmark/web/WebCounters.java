package io.heldmark.web;

import java.util.concurrent.atomic.LongAdder;

/** What the web part counts; safe from any thread. */
final class WebCounters {
    /** Requests answered, errors included. */
    final LongAdder requests = new LongAdder();
    /** Requests refused for their Host, Origin or a missing token. */
    final LongAdder refused = new LongAdder();
    /** Requests that failed inside the station. */
    final LongAdder failed = new LongAdder();
    /** Binary messages sent. */
    final LongAdder messagesSent = new LongAdder();
    /** Bytes of those messages. */
    final LongAdder bytesSent = new LongAdder();
    /** Events sent. */
    final LongAdder eventsSent = new LongAdder();
    /** Messages from viewers that were no acknowledgement. */
    final LongAdder messagesIgnored = new LongAdder();

    /** Writes the figures. */
    void write(PrometheusText out) {
        out.counter("heldmark_http_requests_total", "Requests answered.", "", requests.sum());
        out.counter("heldmark_http_refused_total", "Requests refused for Host, Origin or token.", "", refused.sum());
        out.counter("heldmark_http_failed_total", "Requests that failed inside the station.", "", failed.sum());
        out.counter("heldmark_live_messages_total", "Binary messages sent to viewers.", "", messagesSent.sum());
        out.counter("heldmark_live_bytes_total", "Bytes of those messages.", "", bytesSent.sum());
        out.counter("heldmark_live_events_total", "Events sent to viewers.", "", eventsSent.sum());
        out.counter("heldmark_live_ignored_total", "Messages of viewers not understood.", "", messagesIgnored.sum());
    }
}

package io.heldmark.model;

/**
 * Everything that the station counts across its links and viewers; what is lost is never lost silently.
 *
 * <p>Counts of one link (skipped bytes, failed checks, lost samples) are in {@link LinkHealth}. Ids are stable: a new
 * counter takes the next one, a retired one is not used again.
 */
public enum Counter {
    /** Chunks of bytes taken from the links. */
    INPUT_CHUNKS(1, "input_chunks_total"),
    /** Chunks that a link reader dropped because the input queue was full; each is marked as a gap in the input. */
    INPUT_CHUNKS_DROPPED(2, "input_chunks_dropped_total"),
    /** Bytes of those chunks. */
    INPUT_BYTES_DROPPED(3, "input_bytes_dropped_total"),
    /** Clock inputs left out because the input queue was full; the next one makes up for them. */
    INPUT_CLOCKS_DROPPED(4, "input_clocks_dropped_total"),
    /** Requests (zero, mark, target), pings and notes of bytes sent, refused because the input queue was full. */
    INPUT_REQUESTS_REFUSED(5, "input_requests_refused_total"),
    /** Samples per channel that came before the device had described itself; they mean nothing. */
    SAMPLES_BEFORE_DESCRIBE(6, "samples_before_describe_total"),
    /** Samples of channels that the device sends and has not described. */
    SAMPLES_OF_UNKNOWN_CHANNELS(7, "samples_of_unknown_channels_total"),
    /** Chunks that the recorder could not take; the recording is marked incomplete. */
    RECORDER_CHUNKS_LOST(8, "recorder_chunks_lost_total"),
    /** Station events that the recorder could not take; the recording is marked incomplete. */
    RECORDER_EVENTS_LOST(9, "recorder_events_lost_total"),
    /** Faults of listeners: each is logged, the listener goes on with the next call. */
    LISTENER_FAULTS(10, "listener_faults_total"),
    /** Faults of the processing of one input: logged, the link's stages are built anew, the raw recording goes on. */
    PROCESSING_FAULTS(11, "processing_faults_total"),
    /** Pings sent to devices. */
    PINGS_SENT(12, "pings_sent_total"),
    /** Pongs that answer no ping that is still waited for. */
    PONGS_UNEXPECTED(13, "pongs_unexpected_total"),
    /** Viewers that joined. */
    VIEWERS_JOINED(14, "viewers_joined_total"),
    /** Viewers closed because they did not take their events. */
    VIEWERS_CLOSED(15, "viewers_closed_total"),
    /** Times a viewer was put on pairs of minimum and maximum. */
    VIEWERS_REDUCED(16, "viewers_reduced_total"),
    /** Samples of the live trace that a viewer missed because it was too far behind. */
    VIEWER_SAMPLES_SKIPPED(17, "viewer_samples_skipped_total"),
    /** State reports to a viewer that gave way to a newer one of the same kind. */
    VIEWER_EVENTS_COALESCED(18, "viewer_events_coalesced_total"),
    /** Messages of viewers that are none of the live protocol's, or out of order. */
    VIEWER_MESSAGES_IGNORED(19, "viewer_messages_ignored_total");

    private final int id;
    private final String metricName;

    Counter(int id, String metricName) {
        this.id = id;
        this.metricName = metricName;
    }

    /** Returns the stable number. */
    public int id() {
        return id;
    }

    /** Returns the name under {@code /metrics}, without the prefix {@code heldmark_}. */
    public String metricName() {
        return metricName;
    }
}

package io.heldmark.pipeline;

import io.heldmark.metric.MetricRegistry;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricMark;
import io.heldmark.model.Window;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Everything known of one finished contraction at one moment; immutable, for any thread.
 *
 * @param channel its channel.
 * @param automatic the revision that the station found.
 * @param manual the revision in force where a person has moved a boundary; absent otherwise.
 * @param window the samples within the boundaries in force; absent where they are no longer kept.
 * @param timeStandardUncertaintyNs standard uncertainty of the channel's time against station time.
 * @param effort the effort that it belongs to; absent where it stands alone.
 * @param undo true where a step can be taken back.
 * @param redo true where a step that was taken back can be taken again.
 */
public record Review(
        ChannelInfo channel,
        Contraction automatic,
        @Nullable Contraction manual,
        @Nullable Window window,
        double timeStandardUncertaintyNs,
        @Nullable Effort effort,
        boolean undo,
        boolean redo) {
    /** Says what became of samples that are not kept any more. */
    public static final String GONE =
            "The samples of this contraction are no longer kept; replay the recording to see them.";

    /** Returns the revision in force. */
    public Contraction inForce() {
        return manual == null ? automatic : manual;
    }

    /** Returns where the metrics in force were taken from; empty where the samples are no longer kept. */
    public List<MetricMark> marks() {
        return window == null ? List.of() : MetricRegistry.standard().marks(window);
    }
}

package io.heldmark.pipeline;

import io.heldmark.decode.DecodedFrame;
import io.heldmark.model.CellOverload;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.Level;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TapState;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Takes what the pipeline finds, on the acquisition thread and in the order of the input; must not block.
 *
 * <p>What is found is a pure function of the inputs: the same recording gives the same calls, bit for bit.
 */
public interface StationListener {
    /**
     * Takes the whole list of channels whenever it changes.
     *
     * @param channels the channels, by station-wide number.
     * @param traceFilters the filter of each channel's live trace, in the same order.
     * @param atNs station time.
     */
    default void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {}

    /** Tells whether trace and levels are wanted; asked once for each channel. Results do not depend on it. */
    default boolean wantsTrace() {
        return true;
    }

    /** Takes a batch of the live trace, filtered as declared with the channel; reused after the call. */
    default void onSamples(SampleBatch trace) {}

    /**
     * Takes one channel's counts of a message as the device sent them.
     *
     * @param channel station-wide channel number.
     * @param frame the message, valid during the call.
     * @param position place of the channel in it.
     * @param newestNs time of its newest sample, station time.
     */
    default void onCounts(int channel, DecodedFrame frame, int position, long newestNs) {}

    /** Takes a batch as it was measured, unfiltered, where the trace is not wanted; reused after the call. */
    default void onMeasured(SampleBatch measured) {}

    /** Takes what every channel reads, 10 times a second of input time, from unfiltered samples. */
    default void onLevels(List<Level> levels, long atNs) {}

    /** Takes a contraction whenever it opens, changes or is finished; same id, later revision. */
    default void onContraction(Contraction contraction) {}

    /** Takes a pair of finished contractions of both limbs. */
    default void onEffort(Effort effort) {}

    /** Takes a link's health, once a second of input time and at every change of state. */
    default void onLinkHealth(LinkHealth health) {}

    /** Takes the session zero of a channel whenever its state changes. */
    default void onZero(ZeroState zero) {}

    /** Takes where the alignment of two cells by a knock stands, whenever that changes. */
    default void onTap(TapState tap) {}

    /** Takes an overload of a cell when it begins, while its peak grows and when it ends. */
    default void onOverload(CellOverload overload) {}

    /** Takes a mark that a person set. */
    default void onMark(String text, long atNs) {}

    /** Takes what is said of the trials from now on. */
    default void onTrials(SaidConditions said, long atNs) {}

    /** Takes the target whenever it changes; absent: there is none any more. */
    default void onTarget(@Nullable Target target, long atNs) {}

    /** Takes something that a person should know; severity is {@code info}, {@code warning} or {@code error}. */
    default void onNotice(String severity, String text, long atNs) {}
}

package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.ZeroState;
import java.util.List;

/**
 * Takes what the pipeline finds, on the acquisition thread and in the order of the input; must not block.
 *
 * <p>What is found is a pure function of the inputs: the same recording gives the same calls, bit for bit.
 */
public interface StationListener {
    /** Takes the whole list of channels whenever it changes. */
    default void onChannels(List<ChannelInfo> channels, long atNs) {}

    /** Takes a batch of the live trace; the batch is reused after the call. */
    default void onSamples(SampleBatch batch) {}

    /** Takes a contraction whenever it opens, changes or is finished; same id, later revision. */
    default void onContraction(Contraction contraction) {}

    /** Takes a pair of finished contractions of both limbs. */
    default void onEffort(Effort effort) {}

    /** Takes a link's health, once a second and at every change of state. */
    default void onLinkHealth(LinkHealth health) {}

    /** Takes the session zero of a channel whenever its state changes. */
    default void onZero(ZeroState zero) {}

    /** Takes a mark that a person set. */
    default void onMark(String text, long atNs) {}
}

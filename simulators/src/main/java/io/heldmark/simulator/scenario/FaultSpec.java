package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.annotation.JsonAlias;
import com.fasterxml.jackson.annotation.JsonProperty;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What goes wrong on a cell and its link.
 *
 * @param fromS no random fault before, in seconds.
 * @param untilS no random fault after, in seconds.
 * @param loss messages that never arrive.
 * @param duplicate messages that arrive twice.
 * @param corruption messages with changed bytes; size in bytes.
 * @param reorder messages that arrive after the next one.
 * @param garbage bytes that belong to nothing, before a message; size in bytes.
 * @param burstDelay nothing arrives for a while; size in seconds.
 * @param disconnect the link is down; size in seconds.
 * @param clockStep the tick counter jumps; size in seconds.
 * @param reboot the device starts anew; size in seconds.
 * @param deviceLoss the device loses samples; size in samples.
 * @param adcFault the converter does not answer; size in seconds.
 */
public record FaultSpec(
        double fromS,
        double untilS,
        OnFrames loss,
        OnFrames duplicate,
        OnFrames corruption,
        OnFrames reorder,
        OnFrames garbage,
        InTime burstDelay,
        InTime disconnect,
        InTime clockStep,
        InTime reboot,
        InTime deviceLoss,
        InTime adcFault) {
    /**
     * A fault that hits samples messages.
     *
     * @param probability for each message.
     * @param atS times; the first message at or after each is hit.
     * @param size how large, in the unit of the fault; absent where it has none.
     */
    public record OnFrames(
            double probability,
            List<Double> atS,
            @JsonProperty("bytes") @Nullable Range size) {}

    /**
     * A fault that happens at times.
     *
     * @param perMinute mean number in a minute.
     * @param atS times at which it happens for certain.
     * @param size how long or large, in the unit of the fault.
     */
    public record InTime(
            double perMinute,
            List<Double> atS,

            @JsonProperty("durationS") @JsonAlias({"stepS", "samples"})
            Range size) {}
}

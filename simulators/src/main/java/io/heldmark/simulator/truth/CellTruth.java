package io.heldmark.simulator.truth;

import java.util.List;

/**
 * What really happened on a cell and its link. True time is the time of the scenario: seconds since its beginning, the same
 * for all cells, and that of {@code dueNs}.
 *
 * @param cell name of the cell.
 * @param deviceId identity that the device states.
 * @param sampleRateHz nominal sample rate, in hertz, as it is at the end.
 * @param converterDelayS delay of the converter's averaging: a value is that of this much before its tick; seconds.
 * @param channels the channels.
 * @param clock the device's clock.
 * @param damage what was done to the stream, in the order in which it was done.
 * @param damageDropped entries of damage that found no room.
 * @param samplesTaken samples of each channel that the device took and packed.
 * @param messagesSent samples messages that the device sent.
 * @param untilS how far was simulated, in seconds.
 */
public record CellTruth(
        String cell,
        String deviceId,
        double sampleRateHz,
        double converterDelayS,
        List<ChannelTruth> channels,
        ClockTruth clock,
        List<DamageTruth> damage,
        long damageDropped,
        long samplesTaken,
        long messagesSent,
        double untilS) {
    /** Returns the contractions of a channel that began, by rising time. */
    public List<ContractionTruth> contractions(int channel) {
        return channels.get(channel).contractions();
    }
}

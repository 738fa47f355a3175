package io.heldmark.simulator.truth;

/**
 * Something that was done to the stream.
 *
 * @param kind the fault, as it is called in the scenario; {@code unread} where nobody took the bytes.
 * @param fromS true time of the first sample that is concerned, or of the event's beginning, in seconds.
 * @param toS true time of the end: the last sample that is concerned and one sample period, or the event's end.
 * @param sequence sequence number of the first message concerned; -1 where none is.
 * @param messages samples messages concerned.
 * @param lostSamples samples of each channel that cannot arrive whole.
 * @param bytes bytes changed, added or lost.
 */
public record DamageTruth(
        String kind, double fromS, double toS, int sequence, int messages, int lostSamples, int bytes) {}

package io.heldmark.simulator.truth;

/**
 * Something that moved the force and was no effort.
 *
 * @param kind what it was.
 * @param fromS true time of its beginning, in seconds.
 * @param toS true time of its end, in seconds.
 * @param forceN its size on the channel, in newtons.
 */
public record DisturbanceTruth(String kind, double fromS, double toS, double forceN) {}

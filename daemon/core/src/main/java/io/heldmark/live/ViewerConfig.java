package io.heldmark.live;

/**
 * Limits of the viewers.
 *
 * @param ringNs trace of each channel kept for viewers that fall behind, in nanoseconds.
 * @param events events that may wait for one viewer.
 * @param reduceAfterNs backlog from which a viewer gets pairs of minimum and maximum, in nanoseconds.
 */
public record ViewerConfig(long ringNs, int events, long reduceAfterNs) {}

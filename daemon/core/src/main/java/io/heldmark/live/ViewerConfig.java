package io.heldmark.live;

/**
 * Limits of one viewer.
 *
 * @param events events that may wait.
 * @param reduceAfterNs backlog from which the viewer gets pairs of minimum and maximum.
 */
public record ViewerConfig(int events, long reduceAfterNs) {}

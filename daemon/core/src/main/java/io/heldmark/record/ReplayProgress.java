package io.heldmark.record;

/**
 * Where a replay stands.
 *
 * @param positionNs time from the first item to the last one fed, in nanoseconds.
 * @param durationNs time from the first item to the last one of the file.
 * @param speed multiple of real time, 0 for as fast as possible.
 * @param paused whether it waits for somebody to let it go on.
 * @param ended whether every item has been fed.
 */
public record ReplayProgress(long positionNs, long durationNs, double speed, boolean paused, boolean ended) {}

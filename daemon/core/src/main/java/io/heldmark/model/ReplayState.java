package io.heldmark.model;

/**
 * Where a replay stands.
 *
 * @param file name of the file, without its folder.
 * @param positionNs station time of the last input.
 * @param durationNs station time of the last input of the file.
 * @param speed factor; 0 is as fast as possible.
 * @param paused whether it waits.
 * @param ended whether the file is at its end.
 */
public record ReplayState(String file, long positionNs, long durationNs, double speed, boolean paused, boolean ended) {}

package io.heldmark.simulator.scenario;

/**
 * Says that an entry comes again and again.
 *
 * @param everyS time from one start to the next, in seconds.
 * @param count how many in all; 0 is without end.
 */
public record RepeatSpec(Range everyS, int count) {}

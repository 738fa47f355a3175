package io.heldmark.model;

/**
 * The filter of the live trace of one channel; detection and metrics never see it.
 *
 * @param delayS its delay for slow changes, in seconds.
 * @param description what it is, in words.
 */
public record TraceFilter(double delayS, String description) {
    /** No filter. */
    public static final TraceFilter NONE = new TraceFilter(0, "none");
}

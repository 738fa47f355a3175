package io.heldmark.model;

/**
 * The three instants that cut a contraction out of a trace, in nanoseconds of station time.
 *
 * @param onsetNs where the force begins to rise.
 * @param releaseStartNs where the release begins.
 * @param offsetNs where the force is back at rest.
 */
public record Boundaries(long onsetNs, long releaseStartNs, long offsetNs) {
    /** Returns the boundaries of a window. */
    public static Boundaries of(Window window) {
        return new Boundaries(window.onsetNs(), window.releaseStartNs(), window.offsetNs());
    }
}

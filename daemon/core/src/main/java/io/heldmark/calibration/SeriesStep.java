package io.heldmark.calibration;

/**
 * One thing to do in a guided calibration.
 *
 * @param kind what.
 * @param run the series that a reading belongs to; empty for other steps.
 * @param mounting which mounting, counted from 1.
 * @param increasing whether the load is reached from below.
 * @param applied the load, in the unit of the plan; 0: everything off. Of a preload the highest.
 */
public record SeriesStep(Kind kind, String run, String mounting, boolean increasing, double applied) {
    /** What is to be done. */
    public enum Kind {
        /** Mount the cell anew. */
        MOUNT,
        /** Load it three times to the highest load and unload it. */
        PRELOAD,
        /** Set the load, wait, and take a reading. */
        READ
    }

    /** Tells whether this is a reading of the unloaded cell. */
    public boolean atZero() {
        return kind == Kind.READ && applied == 0;
    }
}

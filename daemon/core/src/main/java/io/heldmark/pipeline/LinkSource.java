package io.heldmark.pipeline;

/** What feeds a station: live links, or a recording. */
interface LinkSource extends AutoCloseable {
    /** Begins to feed. */
    void start();

    /** Ends; nothing is fed after it. */
    @Override
    void close();
}

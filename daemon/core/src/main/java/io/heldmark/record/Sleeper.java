package io.heldmark.record;

/** Waits; a seam, so that tests need not. */
@FunctionalInterface
interface Sleeper {
    /** Waits for about that long, or less. */
    void sleep(long ns);
}

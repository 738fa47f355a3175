package io.heldmark.web;

/** Waits for a condition, with a limit so generous that only a fault reaches it. */
public final class Waiting {
    private static final int LIMIT_MS = 60_000;

    /** Something that becomes true. */
    @FunctionalInterface
    public interface Condition {
        boolean holds() throws Exception;
    }

    private Waiting() {}

    /** Waits until the condition holds. */
    public static void until(String what, Condition condition) throws Exception {
        for (int waitedMs = 0; !condition.holds(); waitedMs += 10) {
            if (waitedMs >= LIMIT_MS) {
                throw new AssertionError("waited in vain for " + what);
            }
            Thread.sleep(10);
        }
    }
}

package io.heldmark.testing;

import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;

/** Waits for what no listener tells; the test's time limit ends a wait in vain. */
public final class Until {
    private static final long TURN_NS = 1_000_000L;

    private Until() {}

    /** Waits until something is so. */
    public static void so(BooleanSupplier wanted) throws InterruptedException {
        while (!wanted.getAsBoolean()) {
            if (Thread.interrupted()) {
                throw new InterruptedException();
            }
            LockSupport.parkNanos(TURN_NS);
        }
    }
}

package io.heldmark.pipeline;

import java.util.concurrent.locks.LockSupport;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A task that runs again and again on a daemon thread of its own and says itself when it wants to run next; a fault of one run
 * is logged and ends no later one.
 */
final class RepeatedTask implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(RepeatedTask.class);
    private static final long AFTER_FAULT_NS = 10_000_000L;

    private final String name;
    private final LongSupplier task;
    private final Runnable onFault;
    private final Thread thread;
    private volatile boolean closed;

    /**
     * Makes a task that does not run yet.
     *
     * @param name name of the thread.
     * @param task returns the nanoseconds until it is to run again; it runs earlier where the thread is woken for another reason.
     * @param onFault is run after a fault of the task, for the counters.
     */
    RepeatedTask(String name, LongSupplier task, Runnable onFault) {
        this.name = name;
        this.task = task;
        this.onFault = onFault;
        thread = new Thread(this::loop, name);
        thread.setDaemon(true);
    }

    /** Runs it from now on; once. */
    void start() {
        thread.start();
    }

    @Override
    public void close() {
        closed = true;
        thread.interrupt();
    }

    private void loop() {
        while (!closed) {
            LockSupport.parkNanos(this, run());
            Thread.interrupted(); // else the next wait would end at once
        }
    }

    private long run() {
        try {
            return task.getAsLong();
        } catch (RuntimeException | Error fault) {
            LOG.error("{}: one run failed", name, fault);
            onFault.run();
            return AFTER_FAULT_NS;
        }
    }
}

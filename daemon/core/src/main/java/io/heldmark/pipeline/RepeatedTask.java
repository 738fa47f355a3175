package io.heldmark.pipeline;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A task that runs again and again on a daemon thread of its own; a fault of one run is logged and ends no later one. */
final class RepeatedTask implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(RepeatedTask.class);

    private final String name;
    private final Runnable task;
    private final Runnable onFault;
    private final ScheduledExecutorService timer;

    /**
     * Makes a task that does not run yet.
     *
     * @param name name of the thread.
     * @param onFault is run after a fault of the task, for the counters.
     */
    RepeatedTask(String name, Runnable task, Runnable onFault) {
        this.name = name;
        this.task = task;
        this.onFault = onFault;
        timer = Executors.newSingleThreadScheduledExecutor(run -> {
            Thread thread = new Thread(run, name);
            thread.setDaemon(true);
            return thread;
        });
    }

    /** Runs it every {@code periodMs} milliseconds from now on. */
    void start(long periodMs) {
        ScheduledFuture<?> unused = timer.scheduleAtFixedRate(this::run, 0, periodMs, TimeUnit.MILLISECONDS);
    }

    @Override
    public void close() {
        timer.shutdownNow();
    }

    private void run() {
        try {
            task.run();
        } catch (RuntimeException | Error fault) {
            LOG.error("{}: one run failed", name, fault);
            onFault.run();
        }
    }
}

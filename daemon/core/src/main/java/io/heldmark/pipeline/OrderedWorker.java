package io.heldmark.pipeline;

import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Semaphore;
import org.jspecify.annotations.Nullable;

/**
 * Does what it is given on a thread of its own, one after the other and in the order in which it was given.
 *
 * <p><b>Guarantees.</b> (1) What one thread hands over is done in that order. (2) At most {@value #MOST_WAITING} tasks wait;
 * who hands over one more is held up, so that memory is bounded. (3) A task that hands over another one has it done at once.
 * (4) What was written before {@link #execute} is seen by the task, what tasks wrote is seen after {@link #drain}.
 *
 * <p><b>Errors.</b> After a task has failed no other is done; {@link #drain} throws what it threw.
 */
final class OrderedWorker implements Executor, AutoCloseable {
    static final int MOST_WAITING = 8;

    private final Semaphore room = new Semaphore(MOST_WAITING);
    private final ExecutorService thread;
    private volatile @Nullable Thread self;
    private volatile @Nullable Throwable failure;

    /** Starts the thread. */
    OrderedWorker(String name) {
        thread = Executors.newSingleThreadExecutor(work -> {
            Thread made = new Thread(work, name);
            made.setDaemon(true);
            self = made;
            return made;
        });
    }

    @Override
    public void execute(Runnable task) {
        if (Thread.currentThread() == self) {
            task.run();
            return;
        }
        room.acquireUninterruptibly();
        thread.execute(() -> {
            try {
                if (failure == null) {
                    task.run();
                }
            } catch (RuntimeException | Error e) {
                failure = e;
            } finally {
                room.release();
            }
        });
    }

    /** Waits until everything is done; throws what a task threw. */
    void drain() {
        room.acquireUninterruptibly(MOST_WAITING);
        room.release(MOST_WAITING);
        Throwable thrown = failure;
        if (thrown instanceof Error error) {
            throw error;
        }
        if (thrown instanceof RuntimeException exception) {
            throw exception;
        }
    }

    /** Waits until everything is done and ends the thread. */
    @Override
    public void close() {
        room.acquireUninterruptibly(MOST_WAITING);
        thread.shutdown();
    }
}

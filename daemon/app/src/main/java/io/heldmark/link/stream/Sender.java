package io.heldmark.link.stream;

import java.io.IOException;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;

/**
 * Writes what is sent on one connection, on a thread of its own.
 *
 * <p>A device that does not take its bytes would otherwise hold up whoever sends: a pseudo-terminal whose other side does
 * not read was seen to take 23 kB and then to block the writer for ever. Each connection has its own sender, so that one
 * that hangs does not outlive its connection.
 */
final class Sender {
    private static final int QUEUED_MESSAGES = 64;

    private final BlockingQueue<byte[]> queue = new ArrayBlockingQueue<>(QUEUED_MESSAGES);
    private final Connection connection;
    private final Thread thread;
    private volatile boolean failed;
    private volatile boolean ended;

    /** Starts the thread. */
    Sender(String linkName, Connection connection) {
        this.connection = connection;
        thread = new Thread(this::run, "link-write " + linkName);
        thread.setDaemon(true);
        thread.start();
    }

    /** Takes a message that is not changed any more; false where the queue is full or a message failed. */
    boolean offer(byte[] message) {
        return !failed && !ended && queue.offer(message);
    }

    /** Tells whether a message could not be written whole, after which the connection is of no use. */
    boolean hasFailed() {
        return failed;
    }

    /** Ends the thread; what is queued is not sent. */
    void end() {
        ended = true;
        thread.interrupt();
    }

    private void run() {
        try {
            while (!ended && !failed) {
                connection.write(queue.take());
            }
        } catch (IOException e) {
            failed = true; // The reader ends the connection: only one thread ever closes it.
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}

package io.heldmark.simulator.sender;

import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.link.LinkModel;
import io.heldmark.simulator.truth.CellTruth;
import java.util.concurrent.atomic.AtomicReference;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;

/**
 * Paces a virtual cell over a real port: one thread sends what is due, another takes what the station says.
 *
 * <p><b>Guarantees.</b> (1) The cell is only touched under the lock. (2) Bytes are written outside it and never wait, so that
 * a reader that does not read cannot hold up the cell; what was not taken is noted as unread in the truth. (3) Deadlines are on
 * the monotonic clock and do not add up errors.
 */
public final class Endpoint implements AutoCloseable {
    private static final long JOIN_MS = 2000;

    private final VirtualCell cell;
    private final Port port;
    private final Pace pace;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();
    private final AtomicReference<@Nullable RuntimeException> failure = new AtomicReference<>();
    private final String name;
    private final Thread writer;
    private final Thread reader;
    private volatile boolean stopping;

    /**
     * Makes an endpoint that does nothing yet.
     *
     * @param name name of the cell.
     * @param cell the cell.
     * @param port the port; closed with the endpoint.
     * @param pace real time.
     */
    public Endpoint(String name, VirtualCell cell, Port port, Pace pace) {
        this.name = name;
        this.cell = cell;
        this.port = port;
        this.pace = pace;
        writer = new Thread(() -> guard(this::send), "cell-" + name + "-writer");
        reader = new Thread(() -> guard(this::receive), "cell-" + name + "-reader");
    }

    /** Begins to send. */
    public void start() {
        reader.start();
        writer.start();
    }

    /**
     * Waits until the scenario is over or the endpoint has been closed.
     *
     * @throws InterruptedException if the calling thread is interrupted.
     * @throws PortException if the port failed.
     */
    public void awaitEnd() throws InterruptedException {
        writer.join();
        RuntimeException failed = failure.get();
        if (failed != null) {
            throw failed;
        }
    }

    /** Returns the name of the cell. */
    public String name() {
        return name;
    }

    /** Hangs a dead weight on the cell, now, see {@link VirtualCell#hang}. */
    public void hang(double weightN) {
        lock.lock();
        try {
            cell.hang(weightN, Math.max(pace.nowNs(), cell.dueNs()));
        } finally {
            lock.unlock();
        }
    }

    /** Gives the cell back to the person. */
    public void free() {
        lock.lock();
        try {
            cell.free();
        } finally {
            lock.unlock();
        }
    }

    /** Returns what is true so far. */
    public CellTruth truth() {
        lock.lock();
        try {
            return cell.truth();
        } finally {
            lock.unlock();
        }
    }

    private void guard(Runnable work) {
        try {
            work.run();
        } catch (RuntimeException e) {
            failure.compareAndSet(null, e);
            wake();
        }
    }

    private void send() {
        byte[] copy = new byte[4096];
        while (true) {
            VirtualCell.Kind kind;
            int length;
            long dueNs;
            lock.lock();
            try {
                if (!waitUntilDue()) {
                    return;
                }
                cell.advance();
                kind = cell.kind();
                length = cell.length();
                dueNs = cell.dueNs();
                copy = copy.length < length ? new byte[length] : copy;
                System.arraycopy(cell.bytes(), 0, copy, 0, length);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            } finally {
                lock.unlock();
            }
            hand(kind, copy, length, dueNs);
        }
    }

    /** Waits until the next delivery is due; returns false at the end. What is received meanwhile may change what is next. */
    private boolean waitUntilDue() throws InterruptedException {
        while (!stopping && failure.get() == null) {
            long dueNs = cell.nextDueNs();
            long targetNs = dueNs == LinkModel.NEVER ? cell.endNs() : dueNs;
            if (targetNs == LinkModel.NEVER) {
                changed.await();
                continue;
            }
            long waitNs = pace.waitNs(targetNs);
            if (waitNs <= 0) {
                return dueNs != LinkModel.NEVER;
            }
            changed.awaitNanos(waitNs);
        }
        return false;
    }

    private void hand(VirtualCell.Kind kind, byte[] bytes, int length, long dueNs) {
        switch (kind) {
            case LINK_DOWN -> port.takeDown();
            case LINK_UP -> port.bringUp();
            case DATA -> {
                int taken = port.write(bytes, 0, length);
                if (taken < length) {
                    noteUnread(dueNs, length - taken);
                }
            }
        }
    }

    private void noteUnread(long dueNs, int bytes) {
        lock.lock();
        try {
            cell.unread(dueNs, bytes);
        } finally {
            lock.unlock();
        }
    }

    private void receive() {
        byte[] buffer = new byte[4096];
        while (!stopping && failure.get() == null) {
            int count = port.read(buffer);
            if (count > 0) {
                lock.lock();
                try {
                    cell.receive(buffer, 0, count, Math.max(pace.nowNs(), cell.dueNs()));
                    changed.signalAll();
                } finally {
                    lock.unlock();
                }
            }
        }
    }

    private void wake() {
        lock.lock();
        try {
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    /** Stops both threads and closes the port; idempotent. */
    @Override
    public void close() {
        stopping = true;
        wake();
        try {
            writer.join(JOIN_MS);
            reader.join(JOIN_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        port.close();
    }
}

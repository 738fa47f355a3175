package io.heldmark.web;

import java.nio.ByteBuffer;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.Nullable;

/** A viewer's place that has as much trace as the test says. */
final class FakeViewer implements ViewerPort {
    final Queue<String> events = new ConcurrentLinkedQueue<>();
    final AtomicLong messagesLeft = new AtomicLong();
    final CopyOnWriteArrayList<Long> sent = new CopyOnWriteArrayList<>();
    final CopyOnWriteArrayList<Long> painted = new CopyOnWriteArrayList<>();
    volatile int messageBytes = 8;
    volatile @Nullable String closeReason;
    volatile boolean left;
    private long sequence;

    @Override
    public synchronized long nextMessage(ByteBuffer into) {
        if (messagesLeft.get() <= 0) {
            return 0;
        }
        messagesLeft.decrementAndGet();
        sequence++;
        into.clear();
        into.putLong(sequence);
        into.position(messageBytes);
        into.flip();
        return sequence;
    }

    @Override
    public @Nullable String nextEvent() {
        return events.poll();
    }

    @Override
    public void sent(long sequence) {
        sent.add(sequence);
    }

    @Override
    public void painted(long sequence) {
        painted.add(sequence);
    }

    @Override
    public @Nullable String closeReason() {
        return closeReason;
    }

    @Override
    public void leave() {
        left = true;
    }
}

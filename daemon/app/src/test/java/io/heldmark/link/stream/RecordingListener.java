package io.heldmark.link.stream;

import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/** Keeps what a link says, and lets a test wait for it with a generous limit. */
public final class RecordingListener implements LinkListener {
    private static final long LIMIT_MS = 30_000;

    private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    private final List<String> states = new ArrayList<>();
    private long lastArrivalNs = -1;
    private boolean arrivalsRise = true;

    @Override
    public synchronized void onBytes(byte[] buffer, int offset, int length, long arrivalNs) {
        bytes.write(buffer, offset, length);
        arrivalsRise &= arrivalNs >= lastArrivalNs;
        lastArrivalNs = arrivalNs;
        notifyAll();
    }

    @Override
    public synchronized void onState(LinkState state, String reason, long atNs) {
        states.add(reason.isEmpty() ? state.name() : state + " " + reason);
        notifyAll();
    }

    /** Returns the states so far, each with its reason. */
    public synchronized List<String> states() {
        return List.copyOf(states);
    }

    /** Returns the bytes so far. */
    public synchronized byte[] bytes() {
        return bytes.toByteArray();
    }

    /** Tells whether no arrival was before the one before it. */
    public synchronized boolean arrivalsRise() {
        return arrivalsRise;
    }

    /** Waits until so many bytes have come. */
    public void awaitBytes(int count) {
        await(me -> me.bytes.size() >= count, count + " bytes");
    }

    /** Waits until the n-th state (counted from 1) that begins so has come. */
    public void awaitState(String begin, int nth) {
        await(me -> me.states.stream().filter(s -> s.startsWith(begin)).count() >= nth, nth + " x " + begin);
    }

    private synchronized void await(Predicate<RecordingListener> condition, String what) {
        long waited = 0;
        while (!condition.test(this)) {
            if (waited >= LIMIT_MS) {
                throw new AssertionError(
                        "waited in vain for " + what + "; states=" + states + ", bytes=" + bytes.size());
            }
            try {
                wait(50);
            } catch (InterruptedException e) {
                throw new AssertionError(e);
            }
            waited += 50;
        }
    }
}

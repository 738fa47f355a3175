package io.heldmark.testing;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CopyOnWriteArrayList;
import org.jspecify.annotations.Nullable;

/** A link of a test: what comes in is called in, what goes out is kept. */
public final class MemoryLink implements Link {
    /** What was sent, in order. */
    public final List<byte[]> sent = new CopyOnWriteArrayList<>();
    /** Whether sending works. */
    public volatile boolean sends = true;
    /** Whether it was closed. */
    public volatile boolean closed;

    private final Binding binding;
    private volatile @Nullable LinkListener listener;

    /** Makes a link that is not started. */
    public MemoryLink(Binding binding) {
        this.binding = binding;
    }

    @Override
    public String name() {
        return "memory";
    }

    @Override
    public Binding binding() {
        return binding;
    }

    @Override
    public void start(LinkListener hears) {
        listener = hears;
    }

    /** Lets bytes arrive, on the calling thread. */
    public void receive(byte[] bytes, long arrivalNs) {
        heard().onBytes(bytes, 0, bytes.length, arrivalNs);
    }

    /** Changes the state, on the calling thread. */
    public void become(LinkState state, String reason, long atNs) {
        heard().onState(state, reason, atNs);
    }

    private LinkListener heard() {
        return Objects.requireNonNull(listener, "not started");
    }

    @Override
    public boolean send(byte[] bytes, int offset, int length) {
        if (sends) {
            sent.add(Arrays.copyOfRange(bytes, offset, offset + length));
        }
        return sends;
    }

    @Override
    public void close() {
        closed = true;
    }
}

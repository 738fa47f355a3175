package io.heldmark.record;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * A recorded link: gives the recorded bytes and states, with their recorded times, to its listener.
 *
 * <p>Nothing can be sent on it. What the station had sent then is in the recording and is not repeated.
 */
public final class ReplayLink implements Link {
    private final int number;
    private final LinkHeader header;
    private final Binding binding;
    private volatile @Nullable LinkListener listener;

    private ReplayLink(int number, LinkHeader header, Binding binding) {
        this.number = number;
        this.header = header;
        this.binding = binding;
    }

    static ReplayLink of(int number, LinkHeader header) throws RecordingException {
        try {
            Binding binding = Binding.valueOf(header.binding().toUpperCase(Locale.ROOT));
            return new ReplayLink(number, header, binding);
        } catch (IllegalArgumentException e) {
            throw new RecordingException(
                    "link " + number + " (" + header.name() + ") of the recording has the binding " + header.binding()
                            + ", which this version does not know; use the version of Heldmark that wrote it",
                    e);
        }
    }

    @Override
    public String name() {
        return header.name();
    }

    @Override
    public Binding binding() {
        return binding;
    }

    /** Returns what the recording says about the link. */
    public LinkHeader header() {
        return header;
    }

    /** Returns the link's number in the recording. */
    public int number() {
        return number;
    }

    @Override
    public void start(LinkListener newListener) {
        listener = newListener;
    }

    @Override
    public boolean send(byte[] bytes, int offset, int length) {
        return false;
    }

    /** Lets go of the listener; what the recording holds for this link is passed over from here on. */
    @Override
    public void close() {
        listener = IGNORE;
    }

    boolean started() {
        return listener != null;
    }

    void deliver(RecordedItem item) {
        LinkListener to = listener;
        if (to != null) {
            to.onBytes(item.bytes(), item.offset(), item.length(), item.timeNs());
        }
    }

    void deliver(LinkState state, String reason, long atNs) {
        LinkListener to = listener;
        if (to != null) {
            to.onState(state, reason, atNs);
        }
    }

    private static final LinkListener IGNORE = new LinkListener() {
        @Override
        public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {}

        @Override
        public void onState(LinkState state, String reason, long atNs) {}
    };
}

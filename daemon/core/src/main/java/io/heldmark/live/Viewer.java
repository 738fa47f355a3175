package io.heldmark.live;

import java.nio.ByteBuffer;
import org.jspecify.annotations.Nullable;

/** One viewer's place in the live trace and its waiting events; methods may be called from any thread. */
@SuppressWarnings("DoNotCallSuggester")
public final class Viewer {
    Viewer() {}

    /**
     * Puts the next binary message into the buffer, which is cleared first and flipped afterwards, little-endian.
     *
     * @return the message's sequence, from 1; 0 where there is nothing to send.
     */
    public long nextMessage(ByteBuffer into) {
        throw new UnsupportedOperationException();
    }

    /** Returns the next event as JSON text, the first one being {@code hello}; absent where none waits. */
    public @Nullable String nextEvent() {
        throw new UnsupportedOperationException();
    }

    /** Tells that the send of a binary message is finished (not merely begun). */
    public void sent(long sequence) {
        throw new UnsupportedOperationException();
    }

    /** Takes the viewer's word that every message up to this one has been drawn. */
    public void painted(long sequence) {
        throw new UnsupportedOperationException();
    }

    /** Returns why the viewer must be closed; absent while all is well. */
    public @Nullable String closeReason() {
        throw new UnsupportedOperationException();
    }

    /** Leaves; idempotent. */
    public void leave() {
        throw new UnsupportedOperationException();
    }
}

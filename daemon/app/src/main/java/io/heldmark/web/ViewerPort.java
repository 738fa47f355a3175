package io.heldmark.web;

import java.nio.ByteBuffer;
import org.jspecify.annotations.Nullable;

/** One viewer's place in the live trace and its waiting events; methods may be called from any thread. */
public interface ViewerPort {
    /**
     * Puts the next binary message into the buffer, which is cleared first and flipped afterwards.
     *
     * @return the message's sequence, from 1; 0 where there is nothing to send.
     */
    long nextMessage(ByteBuffer into);

    /** Returns the next event; absent where none waits. */
    @Nullable String nextEvent();

    /** Tells that the send of a binary message is finished. */
    void sent(long sequence);

    /** Takes the viewer's word that every message up to this one has been drawn. */
    void painted(long sequence);

    /** Returns why the viewer must be closed; absent while all is well. */
    @Nullable String closeReason();

    /** Leaves; idempotent. */
    void leave();
}

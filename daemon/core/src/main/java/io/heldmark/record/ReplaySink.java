package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;

/**
 * Takes what a replay feeds beside the bytes of the links, on the replay's own thread and in file order.
 *
 * <p>Calls may block; the replay waits and drops nothing.
 */
public interface ReplaySink {
    /**
     * Takes a station event ({@code zero}, {@code pingSent}, {@code mark}, {@code clock}, {@code target}, {@code gap},
     * {@code repaired}, {@code end}); a {@code linkState} goes to the link's listener instead, results are not replayed.
     *
     * @param event value of the member {@code event}.
     * @param body the whole object.
     * @param atNs recorded station time.
     */
    void onEvent(String event, ObjectNode body, long atNs);

    /** Takes a link that appears later in the file; the sink starts it before it returns. */
    void onLinkAdded(ReplayLink link);

    /** Called before the first item is fed again: forget everything that came of the items so far. */
    void onRestart();

    /**
     * Called after the last item.
     *
     * @param note one sentence where the file ended early, else empty.
     */
    void onEnd(String note);
}

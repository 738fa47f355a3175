package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import java.util.concurrent.BlockingQueue;

/** Puts a word for everything that a replay feeds into a bounded queue, as a station does. */
final class BlockingSink implements ReplaySink, LinkListener {
    private final BlockingQueue<String> queue;

    BlockingSink(BlockingQueue<String> queue) {
        this.queue = queue;
    }

    private void put(String what) {
        try {
            queue.put(what);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
        put("bytes");
    }

    @Override
    public void onState(LinkState state, String reason, long atNs) {
        put("state");
    }

    @Override
    public void onEvent(String event, ObjectNode body, long atNs) {
        put("event");
    }

    @Override
    public void onLinkAdded(ReplayLink link) {
        link.start(this);
    }

    @Override
    public void onRestart() {
        put("restart");
    }

    @Override
    public void onEnd(String note) {
        put("end");
    }
}

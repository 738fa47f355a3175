package io.heldmark.record;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;

/** A recorded link: gives the recorded bytes and states to its listener; nothing can be sent on it. */
public final class ReplayLink implements Link {
    ReplayLink() {}

    @Override
    public String name() {
        Pending.check();
        throw Pending.work();
    }

    @Override
    public Binding binding() {
        Pending.check();
        throw Pending.work();
    }

    /** Returns what the recording says about the link. */
    public LinkHeader header() {
        Pending.check();
        throw Pending.work();
    }

    /** Returns the link's number in the recording. */
    public int number() {
        Pending.check();
        return 0;
    }

    @Override
    public void start(LinkListener listener) {
        Pending.check();
    }

    @Override
    public boolean send(byte[] bytes, int offset, int length) {
        return false;
    }

    @Override
    public void close() {}
}

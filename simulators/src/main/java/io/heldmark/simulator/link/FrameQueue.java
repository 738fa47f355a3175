package io.heldmark.simulator.link;

import java.util.ArrayList;
import java.util.List;

/**
 * Frames between device and reader, in the order of their hand-over. Grows as needed; what bounds it is the device, which is
 * only run as far ahead as the next delivery needs.
 */
public final class FrameQueue {
    private final List<Frame> frames = new ArrayList<>();

    /** Puts a frame where its hand-over belongs; never before one that is partly delivered. */
    public void add(Frame frame) {
        int at = frames.size();
        while (at > 0 && comesAfter(frames.get(at - 1), frame)) {
            at--;
        }
        frames.add(at, frame);
    }

    private static boolean comesAfter(Frame queued, Frame added) {
        if (queued.delivered > 0) {
            return false;
        }
        return queued.handoverNs > added.handoverNs
                || (queued.handoverNs == added.handoverNs && queued.number > added.number);
    }

    boolean isEmpty() {
        return frames.isEmpty();
    }

    int size() {
        return frames.size();
    }

    Frame get(int index) {
        return frames.get(index);
    }

    Frame removeFirst() {
        return frames.remove(0);
    }

    /** Takes out all frames that were handed over before a time, in nanoseconds, and returns them. */
    public List<Frame> removeBefore(long timeNs) {
        List<Frame> removed = new ArrayList<>();
        while (!frames.isEmpty() && frames.get(0).handoverNs < timeNs) {
            removed.add(frames.remove(0));
        }
        return removed;
    }
}

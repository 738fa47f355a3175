package io.heldmark.simulator.link;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;

/** Each message travels by itself, with latency and jitter; none overtakes another. */
final class DirectLink implements LinkModel {
    private final Delay delay;
    private final Delay back;
    private long lastDueNs;
    private long backIndex;

    DirectLink(CellSpec.LinkTiming spec, SeededRandom random) {
        delay = new Delay(spec, random.split("forth"));
        back = new Delay(spec, random.split("back"));
    }

    @Override
    public long dueNs(FrameQueue queue) {
        if (queue.isEmpty()) {
            return NEVER;
        }
        Frame frame = queue.get(0);
        return Math.max(lastDueNs, frame.handoverNs + delay.latencyNs() + delay.jitterNs(frame.number));
    }

    @Override
    public void deliver(FrameQueue queue, Chunk into) {
        lastDueNs = dueNs(queue);
        Frame frame = queue.removeFirst();
        into.add(frame.bytes, 0, frame.bytes.length);
    }

    @Override
    public long atDeviceNs(long sentNs, int length) {
        return sentNs + back.latencyNs() + back.jitterNs(backIndex++);
    }
}

package io.heldmark.simulator.link;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;

/**
 * A radio link that speaks at connection events: what is ready at an event goes then, up to a number of messages; an event
 * may fail, and its messages wait for the next.
 *
 * <p>The events are those of the receiver's clock, which is true time here. Source of the range 7.5 ms to 4 s: Bluetooth Core
 * Specification, Vol 6, Part B, 4.5.1 (from memory).
 */
final class IntervalLink implements LinkModel {
    private final double intervalNs;
    private final double phaseNs;
    private final int framesPerInterval;
    private final double retryProbability;
    private final Delay delay;
    private final SeededRandom failures;
    private long lastEvent = -1;
    private long lastDueNs;

    IntervalLink(CellSpec.LinkTiming spec, SeededRandom random) {
        intervalNs = spec.intervalS() * 1e9;
        phaseNs = random.split("phase").nextDouble() * intervalNs;
        framesPerInterval = spec.framesPerInterval();
        retryProbability = spec.retryProbability();
        delay = new Delay(spec, random.split("delay"));
        failures = random.split("failures");
    }

    @Override
    public long dueNs(FrameQueue queue) {
        return queue.isEmpty() ? NEVER : dueNs(event(queue));
    }

    @Override
    public void deliver(FrameQueue queue, Chunk into) {
        long event = event(queue);
        lastDueNs = dueNs(event);
        lastEvent = event;
        int taken = 0;
        while (taken < framesPerInterval
                && !queue.isEmpty()
                && queue.get(0).handoverNs + delay.latencyNs() <= eventNs(event)) {
            Frame frame = queue.removeFirst();
            into.add(frame.bytes, 0, frame.bytes.length);
            taken++;
        }
    }

    @Override
    public long atDeviceNs(long sentNs, int length) {
        return eventNs(succeeding(eventAfter(sentNs)));
    }

    private long event(FrameQueue queue) {
        long earliest = eventAfter(queue.get(0).handoverNs + delay.latencyNs());
        return succeeding(Math.max(earliest, lastEvent + 1));
    }

    private long eventAfter(long timeNs) {
        long event = Math.max(0, (long) Math.ceil((timeNs - phaseNs) / intervalNs));
        return eventNs(event) < timeNs ? event + 1 : event;
    }

    private long succeeding(long event) {
        long found = event;
        while (failures.at(found) < retryProbability) {
            found++;
        }
        return found;
    }

    private long eventNs(long event) {
        return (long) (phaseNs + event * intervalNs);
    }

    private long dueNs(long event) {
        return Math.max(lastDueNs, eventNs(event) + delay.jitterNs(event));
    }
}

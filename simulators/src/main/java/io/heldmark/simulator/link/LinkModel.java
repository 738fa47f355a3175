package io.heldmark.simulator.link;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;

/**
 * When bytes arrive. Asking when changes nothing, so that a frame may still be put in before what was asked about; taking the
 * delivery does. Times are true times in nanoseconds; deliveries never go back in time.
 */
public interface LinkModel {
    /** A time that never comes. */
    long NEVER = Long.MAX_VALUE;

    /** Returns when the next delivery reaches the reader if no further frame is handed over before; {@link #NEVER} without frames. */
    long dueNs(FrameQueue queue);

    /** Takes the next delivery out of the queue and adds its bytes to the chunk. */
    void deliver(FrameQueue queue, Chunk into);

    /**
     * Returns when bytes from the station reach the device.
     *
     * @param sentNs when the station sent them.
     * @param length how many.
     */
    long atDeviceNs(long sentNs, int length);

    /** Makes the model that a scenario asks for. */
    static LinkModel of(CellSpec.LinkTiming spec, SeededRandom random) {
        return switch (spec.kind()) {
            case DIRECT -> new DirectLink(spec, random);
            case INTERVAL -> new IntervalLink(spec, random);
            case SERIAL -> new SerialLink(spec, random);
        };
    }
}

package io.heldmark.record;

import io.heldmark.config.ConfigException;
import io.heldmark.time.StationClock;

/**
 * How a recorder buffers and flushes.
 *
 * <p>An item handed over is written within {@code writeIntervalMs} and safe on the disk within {@code syncIntervalMs},
 * each plus what the disk itself takes for one write or sync; a slow sync does not delay the writes. The defaults leave
 * 150 ms for a write before the promised 250 ms are over, and 100 ms for a sync before the promised 500 ms.
 *
 * @param clock station time; only used to pace the flushes, to measure them and to stamp the end.
 * @param ringBytes size of the ring between the acquisition thread and the recorder, a power of two from 16 MiB to 1 GiB;
 *     16 MiB hold 4 minutes of 8 cells at 2 kHz (about 64 kB/s) while the disk stalls.
 * @param writeIntervalMs longest time to a write, 10 to 250 ms.
 * @param syncIntervalMs longest time to a sync, 20 to 500 ms and at least twice the write interval.
 */
public record RecorderConfig(StationClock clock, int ringBytes, int writeIntervalMs, int syncIntervalMs) {
    /** Smallest allowed ring, in bytes. */
    public static final int MIN_RING_BYTES = 16 << 20;

    /** Largest allowed ring, in bytes. */
    public static final int MAX_RING_BYTES = 1 << 30;

    /**
     * Checks the ranges.
     *
     * @throws ConfigException naming the key, the value and the allowed range.
     */
    public RecorderConfig {
        if (ringBytes < MIN_RING_BYTES || ringBytes > MAX_RING_BYTES || Integer.bitCount(ringBytes) != 1) {
            throw new ConfigException(
                    "recorder.ringBytes",
                    ringBytes,
                    "a power of two from " + MIN_RING_BYTES + " to " + MAX_RING_BYTES + " bytes");
        }
        if (writeIntervalMs < 10 || writeIntervalMs > 250) {
            throw new ConfigException("recorder.writeIntervalMs", writeIntervalMs, "10 to 250 ms");
        }
        if (syncIntervalMs < 2 * writeIntervalMs || syncIntervalMs > 500) {
            throw new ConfigException(
                    "recorder.syncIntervalMs", syncIntervalMs, "twice recorder.writeIntervalMs to 500 ms");
        }
    }

    /** Returns 16 MiB, a write every 100 ms and a sync every 400 ms. */
    public static RecorderConfig withDefaults(StationClock clock) {
        return new RecorderConfig(clock, MIN_RING_BYTES, 100, 400);
    }
}

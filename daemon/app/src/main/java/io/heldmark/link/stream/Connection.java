package io.heldmark.link.stream;

import io.heldmark.time.StationClock;
import java.io.IOException;

/** One open connection. {@link #read} and {@link #close} are called by one thread, {@link #write} by one other. */
public interface Connection {
    /**
     * Waits for bytes, a quarter of a second at most.
     *
     * @param buffer takes the bytes from index 0 on.
     * @return how many bytes came, at least 1; 0 where none came in time; -1 where the other side is gone.
     * @throws IOException if the connection broke; its message is a reason for people.
     */
    int read(byte[] buffer) throws IOException;

    /**
     * Returns when the bytes of the last read arrived, station time: now, unless the connection stamped them itself.
     *
     * @param clock the station's clock.
     */
    default long arrivalNs(StationClock clock) {
        return clock.nowNs();
    }

    /** Returns what a person should know of a connection that works but may not do so for long; empty where all is well. */
    default String remark() {
        return "";
    }

    /**
     * Writes all bytes; may block while the device does not take them.
     *
     * @throws IOException if they could not all be written.
     */
    void write(byte[] bytes) throws IOException;

    /** Frees the device. */
    void close();
}

package io.heldmark.link;

/**
 * A two-way stream of bytes to one device: serial port, TCP connection, BLE connection or a recording.
 *
 * <p><b>Life.</b> {@link #start} once, {@link #close} once. In between the link connects, reconnects with back-off and
 * tells every change through the listener; it gives up only on {@code close}.
 *
 * <p><b>Threading.</b> The link owns its reader thread; the listener is called from it and must not block for long. The
 * reader does nothing but stamp the arrival and hand the bytes over. {@link #send} may be called from any thread.
 */
public interface Link extends AutoCloseable {
    /** Returns the link as the user wrote it, for example {@code serial:/dev/ttyUSB0}. */
    String name();

    /** Returns the binding that the user asked for. */
    Binding binding();

    /** Begins to connect and to read; returns at once. */
    void start(LinkListener listener);

    /**
     * Sends bytes to the device.
     *
     * @return false where the link is not up or cannot send; nothing is queued then.
     */
    boolean send(byte[] bytes, int offset, int length);

    /** Ends the reader and frees the device; idempotent. */
    @Override
    void close();

    /** How messages are put into bytes on this link. */
    enum Binding {
        /** Found from the first bytes. */
        AUTO,
        /** COBS frames with a check. */
        BYTES,
        /** Text lines. */
        TEXT,
        /** One characteristic value a chunk, its first byte the characteristic. */
        GATT,
        /** Lines of numbers from a board that knows nothing of the protocol, in a declared layout. */
        NUMBERS
    }
}

package io.heldmark.simulator.sender;

/**
 * One end of a real link, the sender's. Writing never waits: what the other side does not take at once is lost, as on a radio or
 * a serial line without flow control, so that a slow reader cannot hold up virtual time.
 *
 * <p><b>Threading.</b> One thread reads, another writes and changes the link.
 */
public interface Port extends AutoCloseable {
    /** Returns the address as a station takes it, for example {@code serial:/dev/pts/3}. */
    String address();

    /**
     * Writes bytes.
     *
     * @return how many were taken; the rest is lost.
     */
    int write(byte[] bytes, int offset, int length);

    /**
     * Reads what the other side sent; waits up to about 20 ms.
     *
     * @return how many bytes were read; 0 where there are none.
     */
    int read(byte[] into);

    /** Returns whether a station has connected; true where that cannot be told. */
    default boolean hasReader() {
        return true;
    }

    /**
     * Takes the link down so that the reader notices.
     *
     * @throws PortException if that fails.
     */
    void takeDown();

    /**
     * Brings the link up again under the same address.
     *
     * @throws PortException if that fails.
     */
    void bringUp();

    /** Frees what it holds; idempotent. */
    @Override
    void close();
}

package io.heldmark.link.ble.bluez;

import com.sun.jna.LastErrorException;
import com.sun.jna.Memory;
import com.sun.jna.Native;
import com.sun.jna.Pointer;

/** The calls of the C library that reading a socket from BlueZ needs: Java has no stream over a bare descriptor. */
final class Posix {
    static {
        Native.register(Posix.class, "c");
    }

    private static final int EINTR = 4;
    private static final int O_RDONLY = 0;
    private static final short POLLIN = 1;
    private static final short POLLERR_HUP_NVAL = 8 | 16 | 32;

    private Posix() {}

    private static native int poll(Pointer fds, int count, int timeoutMs) throws LastErrorException;

    private static native int read(int descriptor, Pointer buffer, long count) throws LastErrorException;

    private static native int close(int descriptor);

    private static native int dup(int descriptor) throws LastErrorException;

    private static native int dup2(int from, int to) throws LastErrorException;

    private static native int open(String path, int flags) throws LastErrorException;

    /** What waiting for a descriptor came to. */
    enum Readiness {
        READABLE,
        IDLE,
        ENDED
    }

    /**
     * Waits until a message can be read.
     *
     * @param pollFd 8 bytes of scratch.
     */
    static Readiness await(int descriptor, Memory pollFd, int timeoutMs) {
        pollFd.setInt(0, descriptor);
        pollFd.setShort(4, POLLIN);
        pollFd.setShort(6, (short) 0);
        try {
            poll(pollFd, 1, timeoutMs);
        } catch (LastErrorException e) {
            if (e.getErrorCode() == EINTR) {
                return Readiness.IDLE;
            }
            throw e;
        }
        short events = pollFd.getShort(6);
        if ((events & POLLIN) != 0) {
            return Readiness.READABLE;
        }
        return (events & POLLERR_HUP_NVAL) != 0 ? Readiness.ENDED : Readiness.IDLE;
    }

    /** Reads one message; returns its length. */
    static int readMessage(int descriptor, Memory buffer) {
        return read(descriptor, buffer, buffer.size());
    }

    /**
     * Takes over a descriptor that came over the bus. The bus's own library closes the number that it received once more
     * when its connection ends, and by then the number may stand for another file: what is returned is a duplicate that
     * only the caller closes, and the number received is left with nothing behind it.
     *
     * @param received descriptor as the bus handed it over.
     * @return the caller's own descriptor.
     */
    static int takeOver(int received) {
        int own = dup(received);
        int nothing = open("/dev/null", O_RDONLY);
        dup2(nothing, received);
        close(nothing);
        return own;
    }

    /** Closes a descriptor. */
    static void closeDescriptor(int descriptor) {
        close(descriptor);
    }
}

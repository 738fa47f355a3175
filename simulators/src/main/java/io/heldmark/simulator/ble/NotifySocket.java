package io.heldmark.simulator.ble;

import com.sun.jna.Memory;
import com.sun.jna.Native;
import com.sun.jna.Pointer;
import java.io.IOException;

/**
 * A pair of sockets of which BlueZ gets one end: each message is one value to be notified.
 *
 * <p>The bus sends a copy of the end that is given away. Ours must be closed, or the end of the other would never show; but
 * only when the copy has arrived, which nobody tells. It has once somebody has read a value.
 *
 * <p>Thread-safe. Numbers are those of Linux.
 */
final class NotifySocket implements AutoCloseable {
    private static final int AF_UNIX = 1;
    private static final int SOCK_SEQPACKET_CLOEXEC = 5 | 0x80000;
    private static final int MSG_PEEK = 2;
    private static final int MSG_DONTWAIT = 0x40;
    private static final int MSG_NOSIGNAL = 0x4000;
    private static final long SIOCOUTQ = 0x5411;
    private static final int EAGAIN = 11;
    private static final int ENOBUFS = 105;
    private static final int CLOSED = -1;

    private final Memory scratch = new Memory(8);
    private int own;
    private int given;
    private boolean used;

    /** What became of a value. */
    enum Sent {
        ON_ITS_WAY,
        /** As much is under way as the system keeps. */
        NO_ROOM,
        /** The other end is closed. */
        NOBODY_THERE
    }

    /** The calls of the C library that it needs. */
    private static final class LibC {
        static {
            Native.register(LibC.class, "c");
        }

        static native int socketpair(int domain, int type, int protocol, int[] pair);

        static native long send(int descriptor, byte[] bytes, long count, int flags);

        static native long recv(int descriptor, Pointer bytes, long count, int flags);

        static native int ioctl(int descriptor, long request, Pointer value);

        static native int close(int descriptor);
    }

    NotifySocket() throws IOException {
        int[] pair = new int[2];
        if (LibC.socketpair(AF_UNIX, SOCK_SEQPACKET_CLOEXEC, 0, pair) != 0) {
            throw new IOException("no socket for notifications: error " + Native.getLastError());
        }
        own = pair[0];
        given = pair[1];
    }

    /** Returns the end to give away; it stays open until that has arrived. */
    synchronized int given() {
        return given;
    }

    /** Sends a value; never waits. */
    synchronized Sent send(byte[] value) {
        if (own == CLOSED) {
            return Sent.NOBODY_THERE;
        }
        letGo();
        if (LibC.send(own, value, value.length, MSG_DONTWAIT | MSG_NOSIGNAL) >= 0) {
            used = true;
            return Sent.ON_ITS_WAY;
        }
        int error = Native.getLastError();
        return error == EAGAIN || error == ENOBUFS ? Sent.NO_ROOM : Sent.NOBODY_THERE;
    }

    /** Returns whether the other end is closed. */
    synchronized boolean isEnded() {
        if (own == CLOSED) {
            return true;
        }
        letGo();
        return LibC.recv(own, scratch, 1, MSG_PEEK | MSG_DONTWAIT) == 0;
    }

    private void letGo() {
        boolean allRead = used && LibC.ioctl(own, SIOCOUTQ, scratch) == 0 && scratch.getInt(0) == 0;
        if (allRead && given != CLOSED) {
            LibC.close(given);
            given = CLOSED;
        }
    }

    @Override
    public synchronized void close() {
        if (own != CLOSED) {
            LibC.close(own);
            own = CLOSED;
        }
        if (given != CLOSED) {
            LibC.close(given);
            given = CLOSED;
        }
    }
}

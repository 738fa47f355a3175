package io.heldmark.simulator.sender;

import com.sun.jna.Memory;
import com.sun.jna.Native;
import com.sun.jna.Platform;

/**
 * The master of a pseudo-terminal in raw mode; the slave is a serial port to whoever opens it, again and again.
 *
 * <p><b>Nobody there.</b> The slave is opened and closed once at the start, so that from then on the kernel tells whether
 * somebody has it open. While nobody has, bytes are not written: a reader that comes later would get them all at once, stale.
 *
 * <p><b>Threading.</b> One thread reads, another writes; each has buffers of its own.
 */
final class Pty implements AutoCloseable {
    private static final int ROOM = 4096;
    private static final int WAIT_MS = 20;

    private final Memory readBuffer = new Memory(ROOM);
    private final Memory writeBuffer = new Memory(ROOM);
    private final Memory readPoll = new Memory(8);
    private final Memory writePoll = new Memory(8);
    private final String path;
    private volatile int master;

    /**
     * Opens a pseudo-terminal.
     *
     * @throws PortException if the system gives none.
     */
    Pty() {
        if (!Platform.isLinux()) {
            throw new PortException("pseudo-terminals need Linux; use --link tcp:PORT");
        }
        master = LibC.posix_openpt(LibC.O_RDWR | LibC.O_NOCTTY | LibC.O_NONBLOCK | LibC.O_CLOEXEC);
        check(master >= 0, "no pseudo-terminal can be opened");
        check(LibC.grantpt(master) == 0, "the pseudo-terminal cannot be granted");
        check(LibC.unlockpt(master) == 0, "the pseudo-terminal cannot be unlocked");
        String name = LibC.ptsname(master);
        check(name != null, "the pseudo-terminal has no name");
        path = String.valueOf(name);
        makeRaw();
    }

    private void makeRaw() {
        int slave = LibC.open(path, LibC.O_RDWR | LibC.O_NOCTTY | LibC.O_CLOEXEC);
        check(slave >= 0, "cannot open " + path);
        Memory termios = new Memory(LibC.TERMIOS_ROOM);
        boolean raw = LibC.tcgetattr(slave, termios) == 0;
        LibC.cfmakeraw(termios);
        raw &= LibC.tcsetattr(slave, LibC.TCSANOW, termios) == 0;
        LibC.close(slave);
        check(raw, "cannot set " + path + " to raw mode");
    }

    private void check(boolean holds, String what) {
        if (!holds) {
            int error = Native.getLastError();
            close();
            throw new PortException(what + " (error " + error + ")");
        }
    }

    /** Returns the path of the slave. */
    String path() {
        return path;
    }

    /** Writes what fits at once; returns how much that was. */
    int write(byte[] bytes, int offset, int length) {
        if (!hasReader()) {
            return 0;
        }
        int written = 0;
        while (written < length) {
            int count = Math.min(ROOM, length - written);
            writeBuffer.write(0, bytes, offset + written, count);
            int taken = LibC.write(master, writeBuffer, count);
            if (taken <= 0) {
                return written;
            }
            written += taken;
        }
        return written;
    }

    /** Reads what is there, waiting a little for it; returns 0 where nothing came. */
    int read(byte[] into) {
        int events = poll(readPoll, LibC.POLLIN, WAIT_MS);
        if ((events & LibC.POLLIN) == 0) {
            if (events != 0) {
                Pace.rest(WAIT_MS); // Nobody has the slave open: poll returns at once.
            }
            return 0;
        }
        int count = LibC.read(master, readBuffer, Math.min(ROOM, into.length));
        if (count <= 0) {
            return 0;
        }
        readBuffer.read(0, into, 0, count);
        return count;
    }

    private boolean hasReader() {
        return (poll(writePoll, LibC.POLLOUT, 0) & LibC.POLLHUP) == 0;
    }

    private int poll(Memory descriptor, int events, int timeoutMs) {
        descriptor.setInt(0, master);
        descriptor.setShort(4, (short) events);
        descriptor.setShort(6, (short) 0);
        LibC.poll(descriptor, 1, timeoutMs);
        return descriptor.getShort(6);
    }

    /** Closes the master; whoever has the slave open sees a hang-up. */
    @Override
    public void close() {
        int open = master;
        master = -1;
        if (open >= 0) {
            LibC.close(open);
        }
    }
}

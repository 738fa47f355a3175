package io.heldmark.link.serial;

import com.sun.jna.Library;
import com.sun.jna.Memory;
import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import com.sun.jna.Pointer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;

/** A pseudo-terminal: the test holds the device's side, the station opens {@link #path()} like any serial port. */
public final class Pty implements AutoCloseable {
    private static final int O_RDWR = 2;
    private static final int O_NOCTTY = 0x100;
    private static final int O_CLOEXEC = 0x80000;
    private static final int LOCK_EX = 2;
    private static final int TCSANOW = 0;
    private static final int TERMIOS_BYTES = 128; // 60 on Linux; room to spare.

    private static final LibC C = Native.load("c", LibC.class);

    private final int master;
    private final String path;
    private boolean closed;

    /** The calls needed, as in POSIX. */
    public interface LibC extends Library {
        int posix_openpt(int flags);

        int grantpt(int fd);

        int unlockpt(int fd);

        int ptsname_r(int fd, byte[] name, NativeLong length);

        int open(String path, int flags);

        int tcgetattr(int fd, Pointer termios);

        void cfmakeraw(Pointer termios);

        int tcsetattr(int fd, int when, Pointer termios);

        NativeLong read(int fd, byte[] buffer, NativeLong length);

        NativeLong write(int fd, byte[] buffer, NativeLong length);

        int flock(int fd, int operation);

        int close(int fd);
    }

    /** Opens a pseudo-terminal that changes no byte. */
    public Pty() {
        master = C.posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
        byte[] name = new byte[64];
        if (master < 0
                || C.grantpt(master) != 0
                || C.unlockpt(master) != 0
                || C.ptsname_r(master, name, new NativeLong(name.length)) != 0) {
            throw new IllegalStateException("no pseudo-terminal to be had: errno=" + Native.getLastError());
        }
        path = Native.toString(name, StandardCharsets.US_ASCII);
        makeRaw();
    }

    /** Returns the path of the station's side. */
    public String path() {
        return path;
    }

    /** Returns the path of the station's side as a path. */
    public Path file() {
        return Path.of(path);
    }

    /** Writes all bytes; blocks while the station's side does not read. */
    public void write(byte[] bytes) {
        int done = 0;
        while (done < bytes.length) {
            byte[] rest = done == 0 ? bytes : Arrays.copyOfRange(bytes, done, bytes.length);
            int now = C.write(master, rest, new NativeLong(rest.length)).intValue();
            if (now <= 0) {
                throw new IllegalStateException("write failed: errno=" + Native.getLastError());
            }
            done += now;
        }
    }

    /** Waits for bytes from the station's side; -1 while that side is not open. */
    public int read(byte[] buffer) {
        return C.read(master, buffer, new NativeLong(buffer.length)).intValue();
    }

    /** Locks the station's side as another program would, until closed. */
    public AutoCloseable lockedByAnother() {
        int slave = C.open(path, O_RDWR | O_NOCTTY | O_CLOEXEC);
        if (C.flock(slave, LOCK_EX) != 0) {
            throw new IllegalStateException("no lock to be had: errno=" + Native.getLastError());
        }
        return () -> C.close(slave);
    }

    /** Takes the device away: the station's side sees a hang-up. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            C.close(master);
        }
    }

    private void makeRaw() {
        int slave = C.open(path, O_RDWR | O_NOCTTY | O_CLOEXEC);
        Memory termios = new Memory(TERMIOS_BYTES);
        C.tcgetattr(slave, termios);
        C.cfmakeraw(termios);
        C.tcsetattr(slave, TCSANOW, termios);
        C.close(slave);
    }
}

package io.heldmark.simulator.sender;

import com.sun.jna.Memory;
import com.sun.jna.Native;
import org.jspecify.annotations.Nullable;

/** The calls of the C library that a pseudo-terminal needs. Numbers are those of Linux. */
final class LibC {
    static final int O_RDWR = 2;
    static final int O_NOCTTY = 0x100;
    static final int O_NONBLOCK = 0x800;
    static final int O_CLOEXEC = 0x80000;
    static final int POLLIN = 1;
    static final int POLLOUT = 4;
    static final int POLLHUP = 16;
    static final int TCSANOW = 0;

    /** Room for a struct termios on any Linux; only the library looks inside. */
    static final int TERMIOS_ROOM = 256;

    static {
        Native.register("c");
    }

    private LibC() {}

    static native int posix_openpt(int flags);

    static native int grantpt(int fd);

    static native int unlockpt(int fd);

    static native @Nullable String ptsname(int fd);

    static native int open(String path, int flags);

    static native int close(int fd);

    static native int read(int fd, Memory buffer, int count);

    static native int write(int fd, Memory buffer, int count);

    static native int poll(Memory descriptors, int count, int timeoutMs);

    static native int tcgetattr(int fd, Memory termios);

    static native int tcsetattr(int fd, int when, Memory termios);

    static native void cfmakeraw(Memory termios);
}

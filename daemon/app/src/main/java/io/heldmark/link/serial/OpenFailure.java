package io.heldmark.link.serial;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;

/** Says in plain words why a serial port could not be opened, and what to do about it. */
final class OpenFailure {
    private static final int EACCES = 13;
    private static final int EPERM = 1;
    private static final int EAGAIN = 11;
    private static final int EBUSY = 16;
    private static final int ENOTTY = 25;
    private static final int WINDOWS_ACCESS_DENIED = 5;

    private OpenFailure() {}

    /**
     * Explains a failed attempt.
     *
     * @param path path or name of the port.
     * @param errorCode what the operating system said; numbers of Linux, and one of Windows.
     */
    static UnavailableException explain(String path, int errorCode) {
        Path file = Path.of(path);
        if (path.startsWith("/") && !Files.exists(file)) {
            return new UnavailableException(
                    Kind.ABSENT, path + " is not there; waiting for the device to be plugged in");
        }
        boolean mayNot = path.startsWith("/") && !(Files.isReadable(file) && Files.isWritable(file));
        if (mayNot || errorCode == EACCES || errorCode == EPERM) {
            return new UnavailableException(Kind.REFUSED, permission(path, group(file)));
        }
        if (errorCode == EAGAIN || errorCode == EBUSY || errorCode == WINDOWS_ACCESS_DENIED) {
            return new UnavailableException(Kind.REFUSED, busy(path));
        }
        if (errorCode == ENOTTY) {
            return new UnavailableException(
                    Kind.REFUSED, path + " is not a serial port; list the ports with: heldmark ports");
        }
        return new UnavailableException(
                Kind.REFUSED,
                path + " could not be opened (system error " + errorCode + "); unplug it and plug it in again");
    }

    /** Says that another program has the port. */
    static String busy(String path) {
        return path + " is in use by another program; close that program (on Linux, see which: fuser " + path + ")";
    }

    /** Says which group to join; an empty group is one that could not be found out. */
    static String permission(String path, String group) {
        if (group.isEmpty() || group.equals("root")) {
            return "no permission to use " + path + "; ask the administrator of this machine for access to it";
        }
        return "no permission to use " + path + ", which belongs to the group " + group
                + "; join it with: sudo usermod -aG " + group + " $USER, then log out and in again";
    }

    private static String group(Path file) {
        try {
            return Files.readAttributes(file, PosixFileAttributes.class).group().getName();
        } catch (IOException | UnsupportedOperationException e) {
            return ""; // Not a POSIX system, or gone meanwhile: the sentence does without the group.
        }
    }
}

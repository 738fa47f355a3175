package io.heldmark.record;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Locale;

/** Puts what went wrong with a file into one sentence for people: what, where and what to do. */
final class RecorderFaults {
    /** Less room than this on a disk that refuses a write means that it is full, whatever language it says so in. */
    private static final long FULL_BELOW_BYTES = 1 << 20;

    private RecorderFaults() {}

    /** Returns why a recording cannot begin. */
    static String cannotStart(Path place, IOException e) {
        String where = "Cannot record to " + place + ": ";
        if (e instanceof FileAlreadyExistsException) {
            return where + "the file exists and a recording never overwrites; choose another name.";
        }
        if (e instanceof NoSuchFileException) {
            return where + "the folder does not exist; create it or choose another one.";
        }
        if (e instanceof AccessDeniedException) {
            return where + "this user may not write there; choose another folder or correct its permissions.";
        }
        if (saysReadOnly(e)) {
            return where + "the file system is read-only; choose a folder that can be written.";
        }
        if (isFull(place, e)) {
            return where + "the disk is full; free some space or choose another folder.";
        }
        return where + cause(e) + "; check the folder and the disk.";
    }

    /** Returns why a recording stopped. */
    static String stopped(Path file, IOException e) {
        String where = "Recording to " + file + " stopped: ";
        if (e instanceof NoSuchFileException) {
            return where + "the file or its folder was deleted or moved; start a new recording.";
        }
        if (saysReadOnly(e)) {
            return where + "the file system has become read-only; check the disk and start a new recording.";
        }
        if (isFull(file, e)) {
            return where + "the disk is full; free some space and start a new recording. What came before is kept.";
        }
        return where + cause(e) + "; check the disk and start a new recording. What came before is kept.";
    }

    /** Returns that the recorder itself is at fault. */
    static String internal(Path file, RuntimeException e) {
        return "Recording to " + file + " stopped by a fault of the station (" + e
                + "); please report it and start a new recording. What came before is kept.";
    }

    private static boolean saysReadOnly(IOException e) {
        return cause(e).toLowerCase(Locale.ROOT).contains("read-only");
    }

    private static boolean isFull(Path place, IOException e) {
        String cause = cause(e).toLowerCase(Locale.ROOT);
        if (cause.contains("no space left") || cause.contains("not enough space") || cause.contains("quota")) {
            return true;
        }
        try {
            Path folder = place.toAbsolutePath().getParent();
            return folder != null && Files.getFileStore(folder).getUsableSpace() < FULL_BELOW_BYTES;
        } catch (IOException unknown) {
            return false;
        }
    }

    private static String cause(IOException e) {
        String message = e.getMessage();
        return message == null ? e.getClass().getSimpleName() : message;
    }
}

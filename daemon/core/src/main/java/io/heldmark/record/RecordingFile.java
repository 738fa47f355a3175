package io.heldmark.record;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Path;

/** The file under a recorder: a seam, so that tests can put a full or failing disk under it. */
interface RecordingFile extends Closeable {
    /** Makes a new file. */
    @FunctionalInterface
    interface Opener {
        /** Makes it; fails where a file of that name exists. */
        RecordingFile open() throws IOException;
    }

    /** Returns where the file is. */
    Path path();

    /** Appends at least one of the remaining bytes. */
    void write(ByteBuffer bytes) throws IOException;

    /** Returns after everything written is safe on the disk. */
    void sync() throws IOException;

    /** Cuts the file to this size; the next write goes there. */
    void truncate(long sizeBytes) throws IOException;

    /** Fails where the path no longer leads to this file, for example because the folder was deleted. */
    void checkInPlace() throws IOException;
}

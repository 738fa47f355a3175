package io.heldmark.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.ZoneId;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * A new file on the disk, readable by its owner only, since it holds people's data.
 *
 * <p>While it is open it holds a lock on one byte far behind its end, by which {@link RecordingRepair} sees that a file
 * without an end is still being written. On POSIX systems the kernel drops a process's locks on a file as soon as that
 * process closes any handle of it, so a reader in the same program would silently free it: the lock is taken anew at
 * every {@link #checkInPlace}.
 */
final class ChannelFile implements RecordingFile {
    /** Where the lock lies: behind any file, so that it never hinders reading where locks are mandatory. */
    static final long LOCK_POSITION = 1L << 62;

    /** Names are tried with a counter; that many files of one second are beyond any use. */
    private static final int MAX_NAMES = 1_000;

    private final Path path;
    private final FileChannel channel;
    private final @Nullable Object fileKey;
    private @Nullable FileLock lock;

    private ChannelFile(Path path, FileChannel channel) throws IOException {
        this.path = path;
        this.channel = channel;
        this.fileKey = Files.readAttributes(path, BasicFileAttributes.class).fileKey();
        this.lock = tryLock(channel);
    }

    /** Makes exactly this file. */
    static ChannelFile create(Path path) throws IOException {
        FileAttribute<?>[] attributes =
                path.getFileSystem().supportedFileAttributeViews().contains("posix")
                        ? new FileAttribute<?>[] {
                            PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"))
                        }
                        : new FileAttribute<?>[0];
        FileChannel channel =
                FileChannel.open(path, Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE), attributes);
        try {
            syncFolder(path);
            return new ChannelFile(path, channel);
        } catch (IOException e) {
            channel.close();
            throw e;
        }
    }

    /** Makes the first file of the name scheme that does not exist yet in this folder. */
    static ChannelFile createIn(Path folder, long wallNs, ZoneId zone) throws IOException {
        for (int attempt = 1; attempt <= MAX_NAMES; attempt++) {
            try {
                return create(folder.resolve(RecordingName.of(wallNs, zone, attempt)));
            } catch (FileAlreadyExistsException taken) {
                // The next name, then. Only the creation itself can tell without a race.
            }
        }
        throw new FileAlreadyExistsException(
                folder.resolve(RecordingName.of(wallNs, zone, 1)).toString());
    }

    @Override
    public Path path() {
        return path;
    }

    @Override
    public void write(ByteBuffer bytes) throws IOException {
        channel.write(bytes);
    }

    @Override
    public void sync() throws IOException {
        channel.force(false);
    }

    @Override
    public void truncate(long sizeBytes) throws IOException {
        channel.truncate(sizeBytes);
    }

    @Override
    public void checkInPlace() throws IOException {
        BasicFileAttributes now = Files.readAttributes(path, BasicFileAttributes.class);
        if (!Objects.equals(fileKey, now.fileKey())) {
            throw new NoSuchFileException(path.toString(), null, "another file stands in its place");
        }
        if (lock != null) {
            lock.release();
        }
        lock = tryLock(channel);
    }

    @Override
    public void close() throws IOException {
        channel.close();
    }

    /** Takes the lock; null where somebody else holds it or the file system has none. */
    static @Nullable FileLock tryLock(FileChannel channel) {
        try {
            return channel.tryLock(LOCK_POSITION, 1, false);
        } catch (OverlappingFileLockException | IOException e) {
            return null;
        }
    }

    /** Makes the new name survive a power cut; some systems cannot sync a folder and need not. */
    private static void syncFolder(Path path) {
        Path folder = path.toAbsolutePath().getParent();
        if (folder == null) {
            return;
        }
        try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
            channel.force(true);
        } catch (IOException e) {
            // Windows refuses to open a folder; its names are journalled.
            return;
        }
    }
}

package io.heldmark.simulator.sender;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import org.jspecify.annotations.Nullable;

/**
 * A serial port made of a pseudo-terminal.
 *
 * <p><b>Going down.</b> With a folder, the port is a symbolic link in it, {@code FOLDER/NAME}. Going down hangs the reader up and
 * removes the link; coming up makes a new pseudo-terminal and the link again, so that the address stays. Without a folder the
 * address is that of the pseudo-terminal itself, which could not come back: then going down is silence.
 */
public final class PtyPort implements Port {
    private final @Nullable Path link;
    private volatile Pty pty;
    private volatile boolean down;

    /**
     * Opens a port.
     *
     * @param folder folder of the symbolic link; null for none.
     * @param name name of the link.
     * @throws PortException if the system gives no pseudo-terminal, or the link cannot be made.
     */
    public PtyPort(@Nullable Path folder, String name) {
        link = folder == null ? null : folder.resolve(name);
        pty = new Pty();
        point();
    }

    private void point() {
        if (link == null) {
            return;
        }
        Path fresh = link.resolveSibling(link.getFileName() + ".new");
        try {
            Files.createDirectories(link.toAbsolutePath().getParent());
            Files.deleteIfExists(fresh);
            Files.createSymbolicLink(fresh, Path.of(pty.path()));
            Files.move(fresh, link, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            pty.close();
            throw new PortException(
                    "cannot make the link " + link + " (" + e.getClass().getSimpleName() + ")");
        }
    }

    private void unpoint() {
        if (link != null) {
            try {
                Files.deleteIfExists(link);
            } catch (IOException e) {
                throw new PortException(
                        "cannot remove the link " + link + " (" + e.getClass().getSimpleName() + ")");
            }
        }
    }

    @Override
    public String address() {
        return "serial:" + (link == null ? pty.path() : link);
    }

    @Override
    public int write(byte[] bytes, int offset, int length) {
        return down ? 0 : pty.write(bytes, offset, length);
    }

    @Override
    public int read(byte[] into) {
        if (down && link != null) {
            Pace.rest(20);
            return 0;
        }
        int count = pty.read(into);
        return down ? 0 : count;
    }

    @Override
    public void takeDown() {
        down = true;
        if (link != null) {
            unpoint();
            pty.close();
        }
    }

    @Override
    public void bringUp() {
        if (link != null) {
            pty = new Pty();
            point();
        }
        down = false;
    }

    @Override
    public void close() {
        pty.close();
        unpoint();
    }
}

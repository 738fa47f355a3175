package io.heldmark.simulator.sender;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

@EnabledOnOs(OS.LINUX)
@Timeout(60) // A reader that waits forever is a failure, not a hung build.
class PtyPortTest {
    @TempDir
    private Path folder;

    @Test
    void shouldCarryEveryByteUnchangedBothWays() throws IOException {
        byte[] all = new byte[256];
        for (int i = 0; i < all.length; i++) {
            all[i] = (byte) i;
        }
        try (PtyPort port = new PtyPort(null, "x");
                FileInputStream in = new FileInputStream(path(port));
                FileOutputStream out = new FileOutputStream(path(port))) {
            assertEquals(256, port.write(all, 0, 256));
            assertArrayEquals(all, read(in, 256), "no line discipline in between");
            out.write(all);
            assertArrayEquals(all, readAll(port, 256), "and no echo: the port reads only what was written");
        }
    }

    @Test
    void shouldDropWhatNobodyIsThereToRead() throws IOException {
        try (PtyPort port = new PtyPort(null, "x")) {
            assertEquals(0, port.write(new byte[10], 0, 10), "not opened yet");
            try (FileInputStream in = new FileInputStream(path(port))) {
                assertEquals(2, port.write(new byte[] {1, 2}, 0, 2));
                assertArrayEquals(new byte[] {1, 2}, read(in, 2));
            }
            assertEquals(0, port.write(new byte[10], 0, 10), "closed again");
            try (FileInputStream in = new FileInputStream(path(port))) {
                assertEquals(1, port.write(new byte[] {7}, 0, 1));
                assertEquals(7, in.read(), "nothing stale comes first");
            }
        }
    }

    @Test
    void shouldNotWaitForAReaderThatDoesNotRead() throws IOException {
        byte[] much = new byte[1 << 20];
        Arrays.fill(much, (byte) 'x');
        try (PtyPort port = new PtyPort(null, "x");
                FileInputStream in = new FileInputStream(path(port))) {
            int taken = port.write(much, 0, much.length);
            assertTrue(taken > 0 && taken < much.length, "took " + taken);
            assertEquals(taken, read(in, taken).length);
        }
    }

    @Test
    void shouldHangUpAndComeBackUnderTheSamePath() throws IOException {
        try (PtyPort port = new PtyPort(folder, "left")) {
            Path path = folder.resolve("left");
            assertEquals("serial:" + path, port.address());
            try (FileInputStream in = new FileInputStream(path.toFile())) {
                assertEquals(1, port.write(new byte[] {1}, 0, 1));
                assertEquals(1, in.read());
                port.takeDown();
                assertTrue(endsNow(in), "the reader sees the end");
            }
            assertFalse(Files.exists(path, LinkOption.NOFOLLOW_LINKS), "as a pulled plug");
            assertEquals(0, port.write(new byte[] {1}, 0, 1));
            port.bringUp();
            try (FileInputStream in = new FileInputStream(path.toFile())) {
                assertEquals(1, port.write(new byte[] {9}, 0, 1));
                assertEquals(9, in.read());
            }
        }
        assertFalse(Files.exists(folder.resolve("left"), LinkOption.NOFOLLOW_LINKS), "nothing is left behind");
    }

    @Test
    void shouldBeSilentWhileDownWithoutAFolder() throws IOException {
        try (PtyPort port = new PtyPort(null, "x");
                FileInputStream in = new FileInputStream(path(port))) {
            port.takeDown();
            assertEquals(0, port.write(new byte[] {1}, 0, 1));
            port.bringUp();
            assertEquals(1, port.write(new byte[] {2}, 0, 1));
            assertEquals(2, in.read());
        }
    }

    @Test
    void shouldSayWhyTheLinkCannotBeMade() throws IOException {
        Path file = Files.createFile(folder.resolve("file"));
        PortException refused = assertThrows(PortException.class, () -> new PtyPort(file, "left").close());
        assertTrue(refused.getMessage().contains("cannot make the link"), refused.getMessage());
    }

    private static boolean endsNow(FileInputStream in) {
        try {
            return in.read() < 0;
        } catch (IOException e) {
            return true; // Input/output error: how Linux says it to some readers.
        }
    }

    private static byte[] read(FileInputStream in, int count) throws IOException {
        byte[] all = new byte[count];
        int filled = 0;
        while (filled < count) {
            int read = in.read(all, filled, count - filled);
            assertTrue(read > 0, "ended after " + filled);
            filled += read;
        }
        return all;
    }

    private static byte[] readAll(Port port, int count) {
        byte[] all = new byte[count];
        byte[] part = new byte[64];
        int filled = 0;
        while (filled < count) {
            int read = port.read(part);
            System.arraycopy(part, 0, all, filled, read);
            filled += read;
        }
        return all;
    }

    private static String path(Port port) {
        return port.address().substring("serial:".length());
    }
}

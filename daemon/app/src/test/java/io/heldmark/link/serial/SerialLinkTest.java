package io.heldmark.link.serial;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.stream.RecordingListener;
import io.heldmark.time.SystemStationClock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The serial link on real pseudo-terminals. */
@EnabledOnOs(OS.LINUX)
class SerialLinkTest {
    @TempDir
    Path folder;

    private final RecordingListener listener = new RecordingListener();

    /** 4 MB/s and more is what the widest cell of the specification (8 channels, 2 kHz, 32 bit: 64 kB/s) needs many times over. */
    @ParameterizedTest
    @ValueSource(ints = {115_200, 921_600, 1_234_567, 4_000_000})
    void shouldDeliverEveryByteInOrderAtAnyBaudRate(int baud) throws Exception {
        byte[] sent = new byte[2_000_000];
        new Random(baud).nextBytes(sent);
        try (Pty pty = new Pty();
                Link link = open("serial:" + pty.path() + "?baud=" + baud)) {
            link.start(listener);
            listener.awaitState("UP", 1);
            for (int i = 0; i < sent.length; i += 1000) {
                pty.write(Arrays.copyOfRange(sent, i, i + 1000));
            }
            listener.awaitBytes(sent.length);
            assertArrayEquals(sent, listener.bytes());
            assertTrue(listener.arrivalsRise());
        }
    }

    @Test
    void shouldSendToTheDevice() throws Exception {
        byte[] message = "P,7\n".getBytes(StandardCharsets.US_ASCII);
        try (Pty pty = new Pty();
                Link link = open("serial:" + pty.path())) {
            link.start(listener);
            listener.awaitState("UP", 1);
            assertTrue(link.send(message, 0, message.length));
            byte[] got = new byte[16];
            assertEquals(4, pty.read(got));
            assertArrayEquals(message, Arrays.copyOf(got, 4));
        }
    }

    @Test
    void shouldGoOnReadingWhenTheDeviceTakesNothing() throws Exception {
        try (Pty pty = new Pty();
                Link link = open("serial:" + pty.path())) {
            link.start(listener);
            listener.awaitState("UP", 1);
            byte[] block = new byte[4096];
            int refused = 0;
            for (int i = 0; i < 10_000 && refused < 10; i++) {
                refused += link.send(block, 0, block.length) ? 0 : 1;
            }
            assertEquals(10, refused, "a full queue must refuse");
            pty.write(new byte[5000]);
            listener.awaitBytes(5000);
        }
    }

    @Test
    void shouldFollowALinkToADeviceThatIsPluggedInLaterAndComesBackElsewhere() throws Exception {
        Path name = folder.resolve("cell");
        try (Link link = open("serial:" + name)) {
            link.start(listener);
            listener.awaitState("CONNECTING " + name + " is not there", 1);
            try (Pty first = new Pty()) {
                Files.createSymbolicLink(name, first.file());
                listener.awaitState("UP", 1);
                first.write(new byte[] {1, 2});
                listener.awaitBytes(2);
            }
            listener.awaitState("DOWN", 1);
            Files.delete(name);
            listener.awaitState("DOWN " + name + " is not there", 1);
            try (Pty second = new Pty()) {
                Files.createSymbolicLink(name, second.file());
                listener.awaitState("UP", 2);
                second.write(new byte[] {3});
                listener.awaitBytes(3);
            }
        }
        assertArrayEquals(new byte[] {1, 2, 3}, listener.bytes());
        assertTrue(listener.states().stream().anyMatch(s -> s.contains("is gone (unplugged or switched off)")));
    }

    /** Another program that keeps to the usual advisory lock on the terminal ({@code flock}). */
    @Test
    void shouldSayThatAnotherProgramHasThePort() throws Exception {
        try (Pty pty = new Pty();
                Link link = open("serial:" + pty.path())) {
            AutoCloseable lock = pty.lockedByAnother();
            link.start(listener);
            listener.awaitState("FAULT " + pty.path() + " is in use by another program", 1);
            lock.close();
            listener.awaitState("UP", 1);
        }
    }

    @Test
    void shouldSayThatADeviceFileIsNoSerialPort() {
        try (Link link = open("serial:/dev/null")) {
            link.start(listener);
            listener.awaitState("FAULT /dev/null is not a serial port", 1);
        }
    }

    @Test
    void shouldNameTheGroupToJoin() {
        String text = OpenFailure.permission("/dev/ttyUSB0", "dialout");
        assertTrue(text.contains("group dialout"), text);
        assertTrue(text.contains("sudo usermod -aG dialout $USER"), text);
        assertTrue(OpenFailure.explain("/dev/null", 13).reason().startsWith("no permission to use /dev/null"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "serial:/dev/ttyUSB0?baud=fast | baud is a whole number from 1200 to 4000000",
                "serial:/dev/ttyUSB0?baud=1199 | baud is a whole number from 1200 to 4000000",
                "serial:/dev/ttyUSB0?baud=4000001 | baud is a whole number from 1200 to 4000000",
                "serial:/dev/ttyUSB0?binding=gatt | binding is auto, bytes, text or numbers",
                "serial:/dev/ttyUSB0?parity=odd | 'parity' is no option of serial links; there are baud, binding, slope, zero, u",
                "serial:/etc | /etc is an ordinary file or folder, not a serial port",
                "serial:/etc/passwd | /etc/passwd is an ordinary file or folder, not a serial port",
            })
    void shouldRefuseAWrongAddress(String address, String why) {
        ConfigException refusal = assertThrows(ConfigException.class, () -> open(address));
        assertTrue(refusal.getMessage().startsWith("link=" + address), refusal.getMessage());
        assertTrue(refusal.getMessage().contains(why), refusal.getMessage());
    }

    @Test
    void shouldNameTheLinkWithoutTheChannel() {
        try (Link link = open("serial:/dev/ttyUSB9?baud=57600&binding=text#1")) {
            assertEquals("serial:/dev/ttyUSB9?baud=57600&binding=text", link.name());
            assertEquals(Link.Binding.TEXT, link.binding());
        }
    }

    private static Link open(String address) {
        return new SerialLinkProvider().open(LinkAddress.parse(address), new SystemStationClock());
    }
}

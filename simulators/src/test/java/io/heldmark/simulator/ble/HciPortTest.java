package io.heldmark.simulator.ble;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.sender.PortException;
import java.io.DataInputStream;
import java.io.IOException;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.Channels;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A peripheral against a controller of the test's own, which says what the specification lets it say. */
class HciPortTest {
    @TempDir
    Path folder;

    private ServerSocketChannel server;
    private SocketChannel host;
    private HciPort port;
    private final LinkedBlockingQueue<String> advertised = new LinkedBlockingQueue<>();
    private final LinkedBlockingQueue<String> parameters = new LinkedBlockingQueue<>();
    private final LinkedBlockingQueue<String> pieces = new LinkedBlockingQueue<>();
    private final LinkedBlockingQueue<String> disconnects = new LinkedBlockingQueue<>();

    @BeforeEach
    void start() throws Exception {
        Path socket = folder.resolve("controller");
        server = ServerSocketChannel.open(StandardProtocolFamily.UNIX);
        server.bind(UnixDomainSocketAddress.of(socket));
        Thread controller = new Thread(this::control, "controller");
        controller.setDaemon(true);
        controller.start();
        port = new HciPort(socket, Scenario.bundled("demo").withGatt().cells().get(0));
    }

    @AfterEach
    void stop() throws IOException {
        port.close();
        server.close();
    }

    private void control() {
        try {
            host = server.accept();
            DataInputStream in = new DataInputStream(Channels.newInputStream(host));
            while (true) {
                int type = in.readUnsignedByte();
                if (type == 1) {
                    int opcode = Short.toUnsignedInt(Short.reverseBytes(in.readShort()));
                    obey(opcode, in.readNBytes(in.readUnsignedByte()));
                } else {
                    assertEquals(2, type);
                    in.readShort();
                    byte[] data = in.readNBytes(Short.toUnsignedInt(Short.reverseBytes(in.readShort())));
                    pieces.add(HexFormat.of().formatHex(data));
                    say("04 13 05 01 40 00 01 00");
                }
            }
        } catch (IOException e) {
            // The test is over.
        }
    }

    private void obey(int opcode, byte[] given) throws IOException {
        String own = HexFormat.of().toHexDigits(Short.reverseBytes((short) opcode));
        switch (opcode) {
            case 0x2002 -> say("04 0e 07 01" + own + "00 1b00 02"); // Pieces of 27 bytes, two at a time.
            case 0x1009 -> say("04 0e 0a 01" + own + "00 010203040506");
            case 0x0406 -> {
                disconnects.add(HexFormat.of().formatHex(given));
                say("04 0f 04 00 01" + own);
                say("04 05 04 00 4000 16");
            }
            default -> {
                if (opcode == 0x2006) {
                    parameters.add(HexFormat.of().formatHex(given));
                }
                if (opcode == 0x2008 || opcode == 0x200A) {
                    advertised.add(HexFormat.of().formatHex(given));
                }
                say("04 0e 04 01" + own + "00");
            }
        }
    }

    private void say(String hex) throws IOException {
        ByteBuffer bytes = ByteBuffer.wrap(HexFormat.of().parseHex(hex.replace(" ", "")));
        synchronized (pieces) {
            while (bytes.hasRemaining()) {
                host.write(bytes);
            }
        }
    }

    /** A message of the station in one piece: channel 4, the Attribute Protocol. */
    private void request(String pdu) throws IOException {
        String content = pdu.replace(" ", "");
        int n = content.length() / 2;
        say("02 4020" + le(n + 4) + le(n) + "0400" + content);
    }

    private static String le(int value) {
        return HexFormat.of().toHexDigits(Short.reverseBytes((short) value));
    }

    private String nextPiece() throws InterruptedException {
        String piece = pieces.poll(30, TimeUnit.SECONDS);
        assertTrue(piece != null, "nothing was sent");
        return piece;
    }

    private void connect() throws Exception {
        say("04 3e 13 01 00 4000 01 00 060504030201 1800 0000 c800 00");
        request("02 0502");
        assertEquals("0300040003f700", nextPiece());
    }

    private int write(int characteristic, int... bytes) {
        byte[] value = new byte[bytes.length + 1];
        value[0] = (byte) characteristic;
        for (int i = 0; i < bytes.length; i++) {
            value[i + 1] = (byte) bytes[i];
        }
        byte[] framed = GattValues.framed(value, value.length);
        return port.write(framed, 0, framed.length);
    }

    @Test
    void shouldAdvertiseItsService() {
        assertEquals("ble:06:05:04:03:02:01", port.address());
        assertEquals("3000" + "5000" + "000000" + "000000000000" + "07" + "00", parameters.poll());
        String data = advertised.poll();
        assertTrue(data != null && data.startsWith("15020106110765249c2d94a17aae294ef86a56aebc00"), data);
    }

    @Test
    void shouldNotifyInPiecesThatTheControllerTakes() throws Exception {
        connect();
        assertFalse(port.hasReader());
        assertEquals(0, write(0x58, 1, 2, 3), "nobody has subscribed");
        request("12 1400 0100");
        assertEquals("0100040013", nextPiece());
        assertTrue(port.hasReader());
        assertEquals(33, write(0x58, new int[30]));
        assertEquals("210004001b1300" + "00".repeat(20), nextPiece());
        assertEquals("00".repeat(10), nextPiece());
    }

    @Test
    void shouldHandOnCommandsAndStopWhenTheConnectionEnds() throws Exception {
        connect();
        request("52 1600 42 0700");
        byte[] into = new byte[64];
        assertEquals("59420700", read(into));
        port.takeDown();
        assertEquals("400015", disconnects.poll(30, TimeUnit.SECONDS));
        assertEquals("59410300", read(into), "stop");
        assertFalse(port.hasReader());
    }

    private String read(byte[] into) {
        for (int i = 0; i < 1500; i++) {
            int n = port.read(into);
            if (n > 0) {
                return HexFormat.of().formatHex(into, 0, n);
            }
        }
        return "nothing";
    }

    @Test
    void shouldLetDescribeBeRead() throws Exception {
        connect();
        assertEquals(5, write(0x57, 9, 8));
        request("0a 1100");
        assertEquals("030004000b0908", nextPiece());
    }

    @Test
    void shouldSayThatThereIsNoController() {
        assertThrows(
                PortException.class,
                () -> new HciPort(
                        folder.resolve("nothing"),
                        Scenario.bundled("demo").withGatt().cells().get(0)));
    }
}

package io.heldmark.simulator.ble;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Requests and answers, byte by byte (Bluetooth Core Specification, Vol 3, Part F, 3.4; written out by hand, from memory). */
class AttServerTest {
    private static final byte[] DESCRIBE = new byte[50];

    private final List<String> commands = new ArrayList<>();
    private int ends;
    private final AttributeTable table = new AttributeTable(new AttributeTable.Shown() {
        @Override
        public String name() {
            return "left";
        }

        @Override
        public String model() {
            return "m";
        }

        @Override
        public String firmware() {
            return "f";
        }

        @Override
        public int batteryPercent() {
            return 87;
        }

        @Override
        public byte[] describe() {
            return DESCRIBE;
        }
    });
    private final AttServer server =
            new AttServer(table, 247, c -> commands.add(HexFormat.of().formatHex(c)), () -> ends++);

    private String ask(String request) {
        byte[] answer = server.answer(HexFormat.of().parseHex(request.replace(" ", "")));
        return answer == null ? "" : HexFormat.ofDelimiter(" ").formatHex(answer);
    }

    @Test
    void shouldListItsServices() {
        assertEquals("11 06 01 00 03 00 00 18 04 00 04 00 01 18 05 00 0b 00 0a 18", ask("10 0100 ffff 0028"));
        assertEquals("11 06 0c 00 0e 00 0f 18", ask("10 0c00 ffff 0028"));
        assertEquals("11 14 0f 00 19 00 65 24 9c 2d 94 a1 7a ae 29 4e f8 6a 56 ae bc 00", ask("10 0f00 ffff 0028"));
        assertEquals("01 10 1a 00 0a", ask("10 1a00 ffff 0028"));
    }

    @Test
    void shouldAgreeOnTheSmallerMtu() {
        assertEquals("03 f7 00", ask("02 0502"));
        assertEquals(247, server.mtu());
        ask("02 4000");
        assertEquals(64, server.mtu());
    }

    @Test
    void shouldReadLongValuesInParts() {
        for (int i = 0; i < DESCRIBE.length; i++) {
            DESCRIBE[i] = (byte) i;
        }
        assertEquals("0b 00 01 02 03 04 05 06 07 08 09 0a 0b 0c 0d 0e 0f 10 11 12 13 14 15", ask("0a 1100"));
        assertEquals("0d 2c 2d 2e 2f 30 31", ask("0c 1100 2c00"));
        assertEquals("0d", ask("0c 1100 3200"));
        assertEquals("01 0c 11 00 07", ask("0c 1100 3300"));
        assertEquals("0b 57", ask("0a 0e00"), "charge");
    }

    @Test
    void shouldNotifyOnlyWhoHasSubscribedAndOnlyWhatFits() {
        assertEquals(0x13, table.stream());
        assertNull(server.notification(table.stream(), new byte[5]));
        assertEquals("13", ask("12 1400 0100"));
        assertArrayEquals(new byte[] {0x1B, 0x13, 0, 7}, server.notification(table.stream(), new byte[] {7}));
        assertNull(server.notification(table.stream(), new byte[21]));
        assertNotNull(server.notification(table.stream(), new byte[20]));
        assertEquals("0b 01 00", ask("0a 1400"));
        assertEquals("13", ask("12 1400 0000"));
        assertEquals(1, ends);
        assertNull(server.notification(table.stream(), new byte[5]));
    }

    @Test
    void shouldTakeCommandsWithAndWithoutResponse() {
        assertEquals("13", ask("12 1600 41 02 01"));
        assertEquals("", ask("52 1600 42 0100"));
        assertEquals(List.of("410201", "420100"), commands);
        assertEquals("01 12 03 00 03", ask("12 0300 00"));
    }

    @Test
    void shouldAnswerWhatItCannotDo() {
        assertEquals("01 16 00 00 06", ask("16 0100 0000 00"));
        assertEquals("", ask("d2 0100"));
        assertEquals("01 0a 63 00 01", ask("0a 6300"));
        assertEquals("01 02 00 00 04", ask("02"));
        assertEquals("01 08 01 00 0a", ask("08 0100 ffff aa2a"));
    }

    @Test
    void shouldForgetItsClient() {
        ask("02 0502");
        ask("12 1400 0100");
        server.reset();
        assertEquals(23, server.mtu());
        assertNull(server.notification(table.stream(), new byte[5]));
    }
}

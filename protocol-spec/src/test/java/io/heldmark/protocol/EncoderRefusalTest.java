package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class EncoderRefusalTest {
    private final ByteStreamEncoder bytes = new ByteStreamEncoder();
    private final TextEncoder text = new TextEncoder();
    private final GattEncoder gatt = new GattEncoder();
    private final byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
    private final int[] counts = new int[31 * 8];

    @Test
    void shouldRefuseSamplesThatTheHeaderCannotHold() {
        assertRefused("sequence=65536", () -> bytes.samples(65536, 0, 0, 1, 1, counts, 0, 3, out, 0));
        assertRefused("sequence=-1", () -> text.samples(-1, 0, 0, 1, 1, counts, 0, 3, out, 0));
        assertRefused("tick=4294967296", () -> gatt.samples(0, 1L << 32, 0, 1, 1, counts, 0, 3, out, 0));
        assertRefused("status=8", () -> bytes.samples(0, 0, 8, 1, 1, counts, 0, 3, out, 0));
        assertRefused("channelMask=0", () -> bytes.samples(0, 0, 0, 0, 1, counts, 0, 3, out, 0));
        assertRefused("channelMask=256", () -> bytes.samples(0, 0, 0, 256, 1, counts, 0, 3, out, 0));
        assertRefused("sampleCount=32", () -> bytes.samples(0, 0, 0, 1, 32, counts, 0, 3, out, 0));
        assertRefused("sampleCount=0", () -> gatt.samples(0, 0, 0, 1, 0, counts, 0, 3, out, 0));
        assertRefused("bytesPerCount=2", () -> bytes.samples(0, 0, 0, 1, 1, counts, 0, 2, out, 0));
        assertRefused("payload length=752", () -> bytes.samples(0, 0, 0, 255, 31, counts, 0, 3, out, 0));
    }

    @Test
    void shouldRefuseCountsThatDoNotFitTheirWidth() {
        counts[0] = 1 << 23;
        assertRefused("counts=8388608", () -> bytes.samples(0, 0, 0, 1, 1, counts, 0, 3, out, 0));
        counts[0] = -(1 << 23) - 1;
        assertRefused("counts=-8388609", () -> gatt.samples(0, 0, 0, 1, 1, counts, 0, 3, out, 0));
    }

    @Test
    void shouldRefuseWhatTextCannotCarry() {
        assertRefused("sampleCount=2", () -> text.samples(0, 0, 0, 1, 2, counts, 0, 3, out, 0));
        assertRefused("channelMask=2", () -> text.samples(0, 0, 0, 2, 1, counts, 0, 3, out, 0));
        assertRefused("channel=1", () -> text.describe(describe("a", 1, 24, 1), out, 0));
        for (String id : List.of("a,b", "a*b", "a=b", "caf\u00e9")) {
            assertRefused("id=" + id, () -> text.describe(describe(id, 0, 24, 1), out, 0));
        }
        assertRefused("arguments.length=91", () -> text.command(new Command(7, 0, new byte[91]), out, 0));
        assertRefused("data.length=91", () -> text.reply(new Reply(7, 0, 0, new byte[91]), out, 0));
    }

    @Test
    void shouldRefuseADescribeThatBreaksARule() {
        assertRefused("deviceId=", () -> bytes.describe(describe("", 0, 24, 1), out, 0));
        assertRefused("deviceId=", () -> bytes.describe(describe("a\n", 0, 24, 1), out, 0));
        assertRefused("deviceId=", () -> bytes.describe(describe("\ud800", 0, 24, 1), out, 0));
        assertRefused("channel=8", () -> bytes.describe(describe("a", 8, 24, 1), out, 0));
        assertRefused("adcBits=33", () -> gatt.describe(describe("a", 0, 33, 1), out, 0));
        assertRefused("newtonPerCount=NaN", () -> bytes.describe(describe("a", 0, 24, Float.NaN), out, 0));
        assertRefused("newtonPerCount=0.0", () -> text.describe(describe("a", 0, 24, 0), out, 0));
    }

    @Test
    void shouldRefuseADescribeLongerThanAFrame() {
        List<Channel> channels = new java.util.ArrayList<>();
        for (int i = 0; i < 8; i++) {
            FactoryCalibration k = new FactoryCalibration(0, 1, 0, 0);
            channels.add(new Channel(i, "n".repeat(24), 24, 0, 0, 0, Optional.of(k)));
        }
        String longest = "t".repeat(32);
        List<Long> rates = java.util.Collections.nCopies(16, 1000L);
        Describe d = new Describe(1, 0, 0, 1, 1, longest, longest, longest, rates, channels);
        assertRefused("payload length=652", () -> bytes.describe(d, out, 0));
        assertRefused("payload length=652", () -> gatt.describe(d, out, 0));
        assertRefused("line length=", () -> text.describe(d, out, 0)); // The D line with all its rates.
    }

    @Test
    void shouldRefuseNumbersOutOfRange() {
        assertRefused("pingId=65536", () -> bytes.ping(65536, out, 0));
        assertRefused("receivedTick=-1", () -> gatt.pong(0, -1, 0, out, 0));
        assertRefused("transmittedTick=4294967296", () -> text.pong(0, 0, 1L << 32, out, 0));
        assertRefused("opcode=256", () -> bytes.command(new Command(256, 0, new byte[0]), out, 0));
        assertRefused("token=-1", () -> text.reply(new Reply(1, -1, 0, new byte[0]), out, 0));
        assertRefused("arguments.length=508", () -> bytes.command(new Command(1, 0, new byte[508]), out, 0));
        assertRefused("data.length=509", () -> gatt.reply(new Reply(1, 0, 0, new byte[509]), out, 0));
        assertRefused("batteryPercent=101", () -> bytes.status(status(OptionalInt.of(101), 20), out, 0));
        assertRefused("temperatureTenthsC=32768", () -> text.status(status(OptionalInt.empty(), 3276.8), out, 0));
        assertRefused("temperatureTenthsC", () -> gatt.status(status(OptionalInt.empty(), Double.NaN), out, 0));
    }

    @Test
    void shouldRefuseACalibrationThatBreaksARule() {
        FactoryCalibration good = new FactoryCalibration(0, 1, 0, 0);
        assertRefused("channel=8", () -> new CalibrationBytes(8, good).toBytes());
        FactoryCalibration noDate = new FactoryCalibration(0, 1, 0, 20250231 + 100_000);
        assertTrue(new CalibrationBytes(7, noDate).toBytes().length == 17); // Days are not checked against the month.
        FactoryCalibration bad = new FactoryCalibration(0, 1, -0.1f, 0);
        assertRefused("relativeStandardUncertainty=-0.1", () -> new CalibrationBytes(0, bad).toBytes());
    }

    private static Status status(OptionalInt charge, double temperatureC) {
        return new Status(0, charge, OptionalDouble.of(temperatureC), 0, 0, 0);
    }

    private static Describe describe(String id, int channel, int adcBits, float slope) {
        FactoryCalibration k = new FactoryCalibration(0, slope, 0, 0);
        return new Describe(
                1,
                0,
                0,
                1,
                1,
                id,
                "",
                "",
                List.of(),
                List.of(new Channel(channel, "", adcBits, 0, 0, 0, Optional.of(k))));
    }

    private static void assertRefused(String named, Executable encoding) {
        String message = assertThrows(IllegalArgumentException.class, encoding).getMessage();
        assertTrue(message.contains(named), message);
    }
}

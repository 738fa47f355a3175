package io.heldmark.simulator;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.CalibrationBytes;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.protocol.MessageEncoder;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.TextEncoder;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.ClockTruth;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CommandsTest {
    private static final long S = 1_000_000_000L;
    private static final String CELL =
            "    supportedRatesHz: [500, 1000]\n    clock: {offsetPpm: 50, startTick: 1000}\n    statusEveryS: 0\n";

    private final byte[] wire = new byte[4096];
    private int token;

    private static Scenario scenario(String more) {
        return Scenarios.one(60, "maxForceN: 400", "", CELL + more);
    }

    private Reply ask(Reader reader, MessageEncoder encoder, long atNs, int opcode, byte... arguments) {
        reader.drainTo(atNs);
        int length = encoder.command(new Command(opcode, ++token, arguments), wire, 0);
        reader.cell.receive(wire, 0, length, atNs);
        reader.drainTo(atNs + 200_000_000L); // The protocol's bound for a reply.
        Reply reply = reader.replies.get(reader.replies.size() - 1);
        assertEquals(token, reply.token());
        assertEquals(opcode, reply.opcode());
        return reply;
    }

    @Test
    void shouldWaitForStartAndObeyStop() {
        Reader reader = new Reader(scenario(""), 0);
        ByteStreamEncoder encoder = new ByteStreamEncoder();
        reader.drainTo(5 * S);
        assertEquals(1, reader.describes.size());
        assertEquals(0, reader.messages.size(), "a cell with commands waits");
        assertEquals(Reply.OK, ask(reader, encoder, 5 * S, Command.START).result());
        reader.drainTo(6 * S);
        assertEquals(100, reader.messages.size(), 2);
        assertEquals(0, reader.messages.get(0).sequence());
        assertEquals(Reply.OK, ask(reader, encoder, 6 * S, Command.STOP).result());
        int stopped = reader.messages.size();
        reader.drainTo(8 * S);
        assertEquals(stopped, reader.messages.size());
        ask(reader, encoder, 8 * S, Command.START);
        reader.drainTo(9 * S);
        assertEquals(stopped, reader.messages.get(stopped).sequence(), "numbers run on");
        assertEquals(0, reader.decoder.counters().gaps);
    }

    @Test
    void shouldStartWhenToldEvenIfItHasIdledFarAhead() {
        Reader reader = new Reader(Scenarios.one(60, "maxForceN: 400", "", "    statusEveryS: 30\n"), 0);
        reader.drainTo(S);
        assertTrue(reader.cell.nextDueNs() > 20 * S, "nothing but a status far ahead");
        ask(reader, new ByteStreamEncoder(), 2 * S, Command.START);
        assertEquals(2.01, reader.messages.get(0).dueNs() * 1e-9, 0.01);
        reader.drain();
        assertEquals(1, reader.statuses.size(), "that of 30 s, once");
    }

    @Test
    void shouldChangeTheRateAndDescribeItself() {
        Reader reader = new Reader(scenario("    autostart: true\n"), 0);
        ByteStreamEncoder encoder = new ByteStreamEncoder();
        assertEquals(
                Reply.OK,
                ask(reader, encoder, 3 * S, Command.SET_RATE, little(500_000)).result());
        assertEquals(500, reader.describes.get(1).sampleRateHz());
        int before = reader.samples();
        reader.drainTo(4 * S + S / 5);
        assertEquals(500, reader.samples() - before, 12);
        assertEquals(
                Reply.BAD_ARGUMENTS,
                ask(reader, encoder, 5 * S, Command.SET_RATE, little(750_000)).result());
        assertEquals(
                Reply.BAD_ARGUMENTS,
                ask(reader, encoder, 6 * S, Command.SET_RATE, (byte) 1).result());
        Reader fixed = new Reader(Scenarios.one(9, "maxForceN: 400", "", ""), 0);
        assertEquals(
                Reply.NOT_SUPPORTED,
                ask(fixed, encoder, S, Command.SET_RATE, little(500_000)).result());
    }

    private static byte[] little(int value) {
        return new byte[] {(byte) value, (byte) (value >> 8), (byte) (value >> 16), (byte) (value >> 24)};
    }

    @Test
    void shouldReadAndWriteItsCalibration() {
        Reader reader = new Reader(scenario("    adc: {countsPerNewton: 2000, offsetCounts: 77}\n"), 0);
        ByteStreamEncoder encoder = new ByteStreamEncoder();
        Reply read = ask(reader, encoder, S, Command.READ_CALIBRATION, (byte) 0);
        assertArrayEquals(
                new CalibrationBytes(0, new FactoryCalibration(77, 1 / 2000f, 0.002f, 20260101)).toBytes(),
                read.data());
        byte[] other = new CalibrationBytes(0, new FactoryCalibration(5, 0.25f, Float.NaN, 0)).toBytes();
        assertEquals(
                Reply.OK,
                ask(reader, encoder, 2 * S, Command.WRITE_CALIBRATION, other).result());
        assertEquals(
                0.25f,
                reader.describes
                        .get(reader.describes.size() - 1)
                        .channels()
                        .get(0)
                        .calibration()
                        .orElseThrow()
                        .newtonPerCount());
        assertArrayEquals(
                other,
                ask(reader, encoder, 3 * S, Command.READ_CALIBRATION, (byte) 0).data());
        assertEquals(
                Reply.BAD_ARGUMENTS,
                ask(reader, encoder, 4 * S, Command.READ_CALIBRATION, (byte) 1).result());
        other[0] = 1;
        assertEquals(
                Reply.BAD_ARGUMENTS,
                ask(reader, encoder, 5 * S, Command.WRITE_CALIBRATION, other).result());
    }

    @Test
    void shouldAnswerTheOtherCommandsAndCountWhatItCannotUse() {
        Reader reader = new Reader(scenario(""), 0);
        ByteStreamEncoder encoder = new ByteStreamEncoder();
        assertEquals(Reply.OK, ask(reader, encoder, S, Command.DESCRIBE).result());
        assertEquals(2, reader.describes.size());
        assertEquals(
                Reply.OK,
                ask(reader, encoder, 2 * S, Command.IDENTIFY, (byte) 3).result());
        assertEquals(Reply.UNKNOWN_OPCODE, ask(reader, encoder, 3 * S, 0x33).result());
        reader.cell.receive(new byte[] {9, 8, 7, 6, 0}, 0, 5, 3 * S + S / 2);
        assertEquals(Reply.OK, ask(reader, encoder, 4 * S, Command.STATUS).result());
        assertEquals(2, reader.statuses.get(0).rejectedFrameCount());
    }

    @ParameterizedTest
    @ValueSource(strings = {"direct", "interval", "serial"})
    void shouldAnswerPingsWithTheTicksOfItsClock(String kind) {
        Reader reader = new Reader(scenario("    autostart: true\n    link: {kind: " + kind + "}\n"), 0);
        ByteStreamEncoder encoder = new ByteStreamEncoder();
        ClockTruth clock = reader.cell.truth().clock();
        for (int id = 1; id <= 100; id++) {
            long sentNs = id * 137_000_000L;
            reader.drainTo(sentNs);
            int length = encoder.ping(id, wire, 0);
            reader.cell.receive(wire, 0, length, sentNs);
        }
        reader.drainTo(20 * S);
        assertEquals(100, reader.pongs.size());
        for (Reader.Pong pong : reader.pongs) {
            double sentS = pong.id() * 0.137;
            double receivedS = clock.trueS(0, (double) pong.receivedTick());
            double transmittedS = clock.trueS(0, (double) pong.transmittedTick());
            double arrivedS = pong.dueNs() * 1e-9;
            assertTrue(sentS < receivedS && receivedS < transmittedS && transmittedS < arrivedS, pong.toString());
            assertTrue(arrivedS - sentS < 0.1, "within one round of the slowest link: " + pong);
            assertTrue(transmittedS - receivedS < 0.05, "the protocol's bound");
        }
    }

    @Test
    void shouldTalkTextAndStaySilentWhereItAnswersNothing() {
        Reader reader = new Reader(scenario("    binding: text\n    samplesPerFrame: 1\n"), 0);
        TextEncoder encoder = new TextEncoder();
        assertEquals(Reply.OK, ask(reader, encoder, S, Command.START).result());
        assertTrue(reader.messages.size() > 100);
        Reader small = new Reader(Scenario.bundled("text-sender").withDurationS(12), 0);
        small.drainTo(S);
        int length = encoder.command(new Command(Command.STOP, 1, new byte[0]), wire, 0);
        small.cell.receive(wire, 0, length, S);
        length = encoder.ping(1, wire, 0);
        small.cell.receive(wire, 0, length, S);
        small.drain();
        assertEquals(0, small.replies.size() + small.pongs.size());
        assertEquals(3, small.describes.size(), "at power-up and every five seconds");
        // 80 Hz, 4200 ppm slow.
        assertEquals(12 * 80 * (1 - 0.0042), small.samples(), 2);
    }
}

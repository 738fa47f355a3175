package io.heldmark.testing;

import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.protocol.MessageEncoder;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.Status;
import io.heldmark.protocol.Wire;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** A device of a test: keeps its sequence and its tick and gives messages in wire form. Counts are a running number. */
public final class EncodedCell {
    /** Ticks a second of every cell made here. */
    public static final long TICK_RATE_HZ = 1_000_000;

    /** Number of the next samples message. */
    public int sequence;
    /** Tick of the next message's first sample; any number, 32 bits of it are sent. */
    public long tick;
    /** Status bits of the next messages. */
    public int status;
    /** Channels of the next messages. */
    public int mask = 1;
    /** Width of counts, 3 or 4. */
    public int bytesPerCount = 3;
    /** Samples of the next messages. */
    public int samplesAMessage = 10;

    private final MessageEncoder encoder;
    private final long ticksPerSample;
    private final byte[] buffer = new byte[Wire.MAX_MESSAGE_BYTES];
    private final int[] counts = new int[31 * 8];
    private int running;

    /** Makes a cell of 1000 samples a second that speaks the byte stream. */
    public EncodedCell() {
        this(new ByteStreamEncoder(), 1000);
    }

    /** Makes a cell. */
    public EncodedCell(MessageEncoder encoder, double sampleRateHz) {
        this.encoder = encoder;
        ticksPerSample = Math.round(TICK_RATE_HZ / sampleRateHz);
    }

    /** Returns a description of a device of 1000 samples a second. */
    public static Describe describe(String deviceId, int capabilities, int channels) {
        return describe(deviceId, capabilities, channels, 1000, TICK_RATE_HZ);
    }

    /** Returns a description. */
    public static Describe describe(
            String deviceId, int capabilities, int channels, double sampleRateHz, long tickRateHz) {
        List<Channel> all = new ArrayList<>();
        for (int i = 0; i < channels; i++) {
            FactoryCalibration calibration = new FactoryCalibration(0, 0.01f, 0.002f, 20260101);
            all.add(new Channel(i, "pull " + i, 24, 400, 128, 2000, Optional.of(calibration)));
        }
        long milliHz = Math.round(sampleRateHz * 1000);
        return new Describe(1, 0, capabilities, tickRateHz, milliHz, deviceId, "", "", List.of(), all);
    }

    /** Returns a description as a message. */
    public byte[] message(Describe describe) {
        return Arrays.copyOf(buffer, encoder.describe(describe, buffer, 0));
    }

    /** Returns a health report as a message. */
    public byte[] statusMessage(int batteryPercent, double temperatureC) {
        Status report = new Status(
                tick & 0xFFFFFFFFL, OptionalInt.of(batteryPercent), OptionalDouble.of(temperatureC), 0, 0, 0);
        return Arrays.copyOf(buffer, encoder.status(report, buffer, 0));
    }

    /** Returns an answer to a command as a message. */
    public byte[] reply(int opcode, int result) {
        return Arrays.copyOf(buffer, encoder.reply(new Reply(opcode, 1, result, new byte[0]), buffer, 0));
    }

    /** Returns a pong as a message; ticks are cut to 32 bits. */
    public byte[] pong(int pingId, long receivedTick, long transmittedTick) {
        int length = encoder.pong(pingId, receivedTick & 0xFFFFFFFFL, transmittedTick & 0xFFFFFFFFL, buffer, 0);
        return Arrays.copyOf(buffer, length);
    }

    /** Returns the next samples message. */
    public byte[] samples() {
        int n = samplesAMessage * Integer.bitCount(mask);
        for (int i = 0; i < n; i++) {
            counts[i] = running++;
        }
        return samples(counts);
    }

    /** Returns the next samples message with these counts, interleaved. */
    public byte[] samples(int... interleaved) {
        int length = encoder.samples(
                sequence, tick & 0xFFFFFFFFL, status, mask, samplesAMessage, interleaved, 0, bytesPerCount, buffer, 0);
        sequence = sequence + 1 & 0xFFFF;
        tick += samplesAMessage * ticksPerSample;
        return Arrays.copyOf(buffer, length);
    }

    /** Loses messages on the way: they are made and never arrive. */
    public void lose(int messages) {
        for (int i = 0; i < messages; i++) {
            samples();
        }
    }
}

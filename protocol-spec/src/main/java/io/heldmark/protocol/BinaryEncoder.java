package io.heldmark.protocol;

/** What the byte stream and GATT encoders share: payloads. The subclass puts a payload into its frame or value. */
abstract class BinaryEncoder implements MessageEncoder {
    /** Scratch for one payload; larger than any describe. */
    final byte[] payload = new byte[1024];

    /** Returns the longest payload of a message type, in bytes. */
    abstract int maxPayload(int type);

    /** Writes the first {@code length} bytes of the payload in wire form and returns the number of bytes written. */
    abstract int wrap(int type, int length, byte[] out, int outOffset);

    @Override
    public final int samples(
            int sequence,
            long tick,
            int status,
            int channelMask,
            int sampleCount,
            int[] interleavedCounts,
            int countsOffset,
            int bytesPerCount,
            byte[] out,
            int outOffset) {
        Checks.samples(sequence, tick, status, channelMask, sampleCount);
        Checks.range("bytesPerCount", bytesPerCount, 3, 4);
        int counts = sampleCount * Integer.bitCount(channelMask);
        int length = Wire.SAMPLES_HEADER_BYTES + counts * bytesPerCount;
        Checks.range("payload length", length, 0, maxPayload(Wire.SAMPLES));
        LittleEndian.put16(payload, 0, sequence);
        LittleEndian.put32(payload, 2, tick);
        LittleEndian.put8(payload, 6, (status << 5) | sampleCount);
        LittleEndian.put8(payload, 7, channelMask);
        if (bytesPerCount == 3) {
            put24(interleavedCounts, countsOffset, counts);
        } else {
            put32(interleavedCounts, countsOffset, counts);
        }
        return wrap(Wire.SAMPLES, length, out, outOffset);
    }

    private void put24(int[] interleavedCounts, int countsOffset, int counts) {
        for (int i = 0; i < counts; i++) {
            int value = interleavedCounts[countsOffset + i];
            Checks.range("counts", value, -(1 << 23), (1 << 23) - 1);
            LittleEndian.put24(payload, Wire.SAMPLES_HEADER_BYTES + 3 * i, value);
        }
    }

    private void put32(int[] interleavedCounts, int countsOffset, int counts) {
        for (int i = 0; i < counts; i++) {
            LittleEndian.put32(payload, Wire.SAMPLES_HEADER_BYTES + 4 * i, interleavedCounts[countsOffset + i]);
        }
    }

    @Override
    public final int describe(Describe describe, byte[] out, int outOffset) {
        Checks.describe(describe);
        int length = DescribeWriter.write(describe, payload);
        Checks.range("payload length", length, 0, maxPayload(Wire.DESCRIBE));
        return wrap(Wire.DESCRIBE, length, out, outOffset);
    }

    @Override
    public final int status(Status status, byte[] out, int outOffset) {
        Checks.status(status);
        int tenthsC = status.temperatureC().isPresent() ? (int) Checks.tenthsC(status) : Short.MIN_VALUE;
        LittleEndian.put32(payload, 0, status.tick());
        LittleEndian.put8(payload, 4, status.batteryPercent().orElse(Wire.U8_MAX));
        LittleEndian.put16(payload, 5, tenthsC);
        LittleEndian.put16(payload, 7, status.adcFaultCount());
        LittleEndian.put32(payload, 9, status.lostSampleCount());
        LittleEndian.put16(payload, 13, status.rejectedFrameCount());
        return wrap(Wire.STATUS, Wire.STATUS_BYTES, out, outOffset);
    }

    @Override
    public final int command(Command command, byte[] out, int outOffset) {
        Checks.command(command, maxPayload(Wire.COMMAND) - 2);
        LittleEndian.put8(payload, 0, command.opcode());
        LittleEndian.put8(payload, 1, command.token());
        System.arraycopy(command.arguments(), 0, payload, 2, command.arguments().length);
        return wrap(Wire.COMMAND, 2 + command.arguments().length, out, outOffset);
    }

    @Override
    public final int reply(Reply reply, byte[] out, int outOffset) {
        Checks.reply(reply, maxPayload(Wire.REPLY) - 3);
        LittleEndian.put8(payload, 0, reply.opcode());
        LittleEndian.put8(payload, 1, reply.token());
        LittleEndian.put8(payload, 2, reply.result());
        System.arraycopy(reply.data(), 0, payload, 3, reply.data().length);
        return wrap(Wire.REPLY, 3 + reply.data().length, out, outOffset);
    }

    @Override
    public final int ping(int pingId, byte[] out, int outOffset) {
        Checks.range("pingId", pingId, 0, Wire.U16_MAX);
        LittleEndian.put16(payload, 0, pingId);
        return wrap(Wire.PING, Wire.PING_BYTES, out, outOffset);
    }

    @Override
    public final int pong(int pingId, long receivedTick, long transmittedTick, byte[] out, int outOffset) {
        Checks.pong(pingId, receivedTick, transmittedTick);
        LittleEndian.put16(payload, 0, pingId);
        LittleEndian.put32(payload, 2, receivedTick);
        LittleEndian.put32(payload, 6, transmittedTick);
        return wrap(Wire.PONG, Wire.PONG_BYTES, out, outOffset);
    }
}

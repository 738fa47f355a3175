package io.heldmark.protocol;

import java.util.List;
import java.util.stream.Collectors;

/**
 * Encodes the text binding: comma-separated lines, by default with their check.
 *
 * <p>Text carries one sample a line, for channels 0 up without a hole, and texts of printable ASCII without comma,
 * asterisk and equals sign; anything else throws {@link IllegalArgumentException}.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "Text binding".
 */
public final class TextEncoder implements MessageEncoder {
    private final LineWriter line;

    /** Creates an encoder that ends every line with its check. */
    public TextEncoder() {
        this(true);
    }

    private TextEncoder(boolean checked) {
        line = new LineWriter(checked);
    }

    /** Returns an encoder that writes no checks, as the smallest senders do. */
    public static TextEncoder withoutChecks() {
        return new TextEncoder(false);
    }

    @Override
    public int samples(
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
        Checks.range("sampleCount", sampleCount, 1, 1);
        int channels = Integer.bitCount(channelMask);
        Checks.range("channelMask", channelMask, (1 << channels) - 1, (1 << channels) - 1);
        line.start('S').field(sequence).field(tick);
        if (status == 0) {
            line.emptyField();
        } else {
            line.field(status);
        }
        for (int i = 0; i < channels; i++) {
            line.field(interleavedCounts[countsOffset + i]);
        }
        return line.end(out, outOffset);
    }

    @Override
    public int describe(Describe d, byte[] out, int outOffset) {
        Checks.describe(d);
        int at = outOffset + header(d, out, outOffset);
        int lines = 0;
        for (Channel c : d.channels()) {
            Checks.range("channel", c.index(), lines, lines);
            at += channel(c, out, at);
            lines++;
        }
        for (Channel c : d.channels()) {
            if (c.calibration().isPresent()) {
                at += calibration(c.index(), c.calibration().get(), out, at);
                lines++;
            }
        }
        return at + line.start('E').field(lines).end(out, at) - outOffset;
    }

    private int header(Describe d, byte[] out, int at) {
        line.start('D').field(d.protocolMajor() + "." + d.protocolMinor());
        pair("id", d.deviceId());
        line.field("tickhz=" + d.tickRateHz()).field("ratemhz=" + d.sampleRateMilliHz());
        optionalPair("model", d.model());
        optionalPair("firmware", d.firmware());
        if (d.capabilities() != 0) {
            line.field("caps=" + d.capabilities());
        }
        List<Long> rates = d.supportedRatesMilliHz();
        if (!rates.isEmpty()) {
            line.field("rates=" + rates.stream().map(String::valueOf).collect(Collectors.joining("/")));
        }
        return line.end(out, at);
    }

    private int channel(Channel c, byte[] out, int at) {
        line.start('C').field(c.index()).field("bits=" + c.adcBits());
        optionalPair("name", c.name());
        optionalPair("bandwidthhz", c.bandwidthHz());
        optionalPair("gain", c.gain());
        optionalPair("ratedn", c.ratedLoadN());
        return line.end(out, at);
    }

    private int calibration(int channel, FactoryCalibration k, byte[] out, int at) {
        line.start('K').field(channel).field("zero=" + k.zeroCounts());
        pair("slope", DecimalText.of(k.newtonPerCount()));
        if (!Float.isNaN(k.relativeStandardUncertainty())) {
            pair("u", DecimalText.of(k.relativeStandardUncertainty()));
        }
        if (k.calibratedOn() != 0) {
            line.field("date=" + k.calibratedOn());
        }
        return line.end(out, at);
    }

    @Override
    public int status(Status status, byte[] out, int outOffset) {
        Checks.status(status);
        line.start('H').field(status.tick());
        if (status.batteryPercent().isPresent()) {
            line.field(status.batteryPercent().getAsInt());
        } else {
            line.emptyField();
        }
        if (status.temperatureC().isPresent()) {
            line.tenthsField(Checks.tenthsC(status));
        } else {
            line.emptyField();
        }
        line.field(status.adcFaultCount()).field(status.lostSampleCount()).field(status.rejectedFrameCount());
        return line.end(out, outOffset);
    }

    @Override
    public int command(Command command, byte[] out, int outOffset) {
        Checks.command(command, Wire.MAX_HEX_PAIRS);
        line.start('Q').field(command.opcode()).field(command.token());
        if (command.arguments().length > 0) {
            line.hexField(command.arguments());
        }
        return line.end(out, outOffset);
    }

    @Override
    public int reply(Reply reply, byte[] out, int outOffset) {
        Checks.reply(reply, Wire.MAX_HEX_PAIRS);
        line.start('R').field(reply.opcode()).field(reply.token()).field(reply.result());
        if (reply.data().length > 0) {
            line.hexField(reply.data());
        }
        return line.end(out, outOffset);
    }

    @Override
    public int ping(int pingId, byte[] out, int outOffset) {
        Checks.range("pingId", pingId, 0, Wire.U16_MAX);
        return line.start('P').field(pingId).end(out, outOffset);
    }

    @Override
    public int pong(int pingId, long receivedTick, long transmittedTick, byte[] out, int outOffset) {
        Checks.pong(pingId, receivedTick, transmittedTick);
        return line.start('O')
                .field(pingId)
                .field(receivedTick)
                .field(transmittedTick)
                .end(out, outOffset);
    }

    private void pair(String key, String value) {
        for (int i = 0; i < value.length(); i++) {
            char c = value.charAt(i);
            if (c < ' ' || c > '~' || c == ',' || c == '*' || c == '=') {
                throw new IllegalArgumentException(key + "=" + value + " holds a character that text cannot carry");
            }
        }
        line.field(key + "=" + value);
    }

    private void optionalPair(String key, String value) {
        if (!value.isEmpty()) {
            pair(key, value);
        }
    }

    private void optionalPair(String key, float value) {
        if (value != 0) {
            pair(key, DecimalText.of(value));
        }
    }
}

package io.heldmark.decode;

import io.heldmark.protocol.Channel;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.Wire;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Lines of numbers, from a board that knows nothing of the protocol, as the messages that the rest of the station takes: a
 * describe made of the declared layout, and one samples message a line.
 *
 * <p><b>Numbers.</b> A number with d decimals becomes the count of its last decimal; the first usable line says how many there are,
 * at most {@value #MOST_DECIMALS}. The count is rounding and resolution in one, as with a converter.
 *
 * <p><b>Ticks.</b> There are none in the lines: they are times of arrival, followed by {@link LineClock}, at 1 MHz.
 *
 * <p><b>What can be used.</b> A line with exactly the declared columns, a number in each that is not skipped; a delimiter at its
 * end is ignored. The first line after a connection may be cut and is not used. All else is counted as malformed and skipped.
 *
 * <p><b>Errors.</b> Nothing that arrives throws. Single writer; nothing is allocated per line.
 */
public final class NumberDecoder implements StreamDecoder {
    /** Name of every such board: it has no identity of its own. */
    public static final String DEVICE_ID = "prints-numbers";

    static final int MOST_DECIMALS = 6;
    private static final long TICK_RATE_HZ = 1_000_000;
    private static final double NS_PER_TICK = 1000;

    private final MessageHandler handler;
    private final NumberLayout layout;
    private final DecoderCounters counters = new DecoderCounters();
    private final LineClock clock;
    private final NumberLine line;
    private final byte[] kept = new byte[Wire.MAX_LINE_BYTES + 1];
    private final SamplesView view = new SamplesView();
    private int sequence;
    private int fill;
    private boolean skipping = true;
    private int decimals = -1;
    private long arrivalNs;
    private @Nullable Describe told;

    /**
     * Makes a decoder.
     *
     * @param layout how lines are laid out.
     * @param handler takes the messages.
     */
    public NumberDecoder(NumberLayout layout, MessageHandler handler) {
        this.layout = layout;
        this.handler = handler;
        clock = new LineClock(layout.rateHz());
        line = new NumberLine(layout);
    }

    /** Takes note when the next bytes arrived, station time. */
    public void arrivedAt(long atNs) {
        arrivalNs = atNs;
    }

    @Override
    public void accept(byte[] bytes, int offset, int length) {
        counters.bytes += length;
        int lines = 0;
        for (int i = offset; i < offset + length; i++) {
            lines += bytes[i] == '\n' ? 1 : 0;
        }
        lines -= skipping && lines > 0 ? 1 : 0;
        if (lines > 0) {
            clock.onRead(lines, arrivalNs);
        }
        for (int i = offset; i < offset + length; i++) {
            take(bytes[i]);
        }
    }

    private void take(byte b) {
        if (b == '\n') {
            endLine();
        } else if (skipping) {
            counters.skippedBytes++;
        } else if (fill < kept.length) {
            kept[fill++] = b;
        } else {
            counters.oversized++;
            counters.skippedBytes += fill + 1;
            fill = 0;
            skipping = true;
        }
    }

    private void endLine() {
        int length = fill;
        fill = 0;
        if (skipping) {
            skipping = false;
            counters.skippedBytes++;
            return;
        }
        double timeNs = clock.next();
        int text = length > 0 && kept[length - 1] == '\r' ? length - 1 : length;
        if (text == 0) {
            counters.idleBytes += length + 1;
        } else if (line.read(kept, text)) {
            counters.messageBytes += length + 1;
            hand(timeNs);
        } else {
            counters.malformed++;
            counters.skippedBytes += length + 1;
        }
    }

    private void hand(double timeNs) {
        if (decimals < 0) {
            decimals = Math.min(MOST_DECIMALS, line.decimals());
        }
        if (told == null) {
            Describe describe = describe();
            told = describe;
            handler.onDescribe(describe);
        }
        if (!line.scaleTo(decimals, view.counts())) {
            counters.malformed++; // A number that no count holds.
            return;
        }
        long tick = (long) Math.floor(timeNs / NS_PER_TICK) & 0xFFFF_FFFFL;
        view.set(sequence, tick, 0, (1 << line.channels()) - 1, 1);
        counters.messages++;
        counters.sampleFrames++;
        handler.onSamples(view);
        sequence = (sequence + 1) & 0xFFFF;
    }

    private Describe describe() {
        List<Channel> channels = new ArrayList<>();
        for (NumberLayout.Column column : layout.columns()) {
            if (column.used()) {
                channels.add(new Channel(channels.size(), column.name(), 32, 0, 0, 0, scale(column.unit())));
            }
        }
        return new Describe(
                Wire.VERSION_MAJOR,
                Wire.VERSION_MINOR,
                0,
                TICK_RATE_HZ,
                Math.round(layout.rateHz() * 1000),
                DEVICE_ID,
                "",
                "",
                List.of(),
                channels);
    }

    /** What the board has calibrated itself, with an uncertainty that nobody knows; counts have no scale. */
    private Optional<FactoryCalibration> scale(NumberUnit unit) {
        if (unit == NumberUnit.COUNTS) {
            return Optional.empty();
        }
        float slope = (float) (unit.newton / NumberLine.POWERS[decimals]);
        return Optional.of(new FactoryCalibration(0, slope, Float.NaN, 0));
    }

    @Override
    public DecoderCounters counters() {
        return counters;
    }

    @Override
    public void reset() {
        counters.skippedBytes += fill;
        fill = 0;
        skipping = true;
        clock.restart();
    }
}

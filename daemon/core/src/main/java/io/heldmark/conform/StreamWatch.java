package io.heldmark.conform;

import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.SamplesView;
import java.util.Arrays;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Watches samples messages: channels, ranges and ticks one by one, rates and spacing when a stretch is over. */
final class StreamWatch {
    private static final long RECENT_NS = 1_000_000_000L;

    private final Ledger ledger;
    private final Options options;
    private StreamSegment segment = new StreamSegment();
    private @Nullable Describe describe;
    private boolean started;
    private boolean awaitsFirst;
    private boolean cutNext;
    private boolean paused;
    private long tick;
    private long messages;
    private long arrivalNs;
    private long firstSinceStartNs = -1;
    private @Nullable Evidence last;

    StreamWatch(Ledger ledger, Options options) {
        this.ledger = ledger;
        this.options = options;
    }

    /** Takes what the device says of itself; another rate begins another stretch. */
    void onDescribe(Describe told) {
        Describe before = describe;
        if (before != null
                && (before.sampleRateMilliHz() != told.sampleRateMilliHz()
                        || before.tickRateHz() != told.tickRateHz())) {
            endStretch();
        }
        describe = told;
    }

    /** Judges what has come so far and begins anew. */
    void endStretch() {
        Describe told = describe;
        if (told != null) {
            SegmentJudge.judge(segment, told, options, ledger);
        }
        segment = new StreamSegment();
        cutNext = true;
    }

    /** Judges what has come so far, and keeps nothing of what comes until {@link #resume}. */
    void pause() {
        endStretch();
        paused = true;
    }

    /** Begins anew after {@link #pause}. */
    void resume() {
        paused = false;
        endStretch();
    }

    /** Notes that start is being sent: what comes next continues the numbers of before. */
    void onStartSent() {
        endStretch();
        awaitsFirst = started;
        firstSinceStartNs = -1;
    }

    /** Returns whether the next message is the first after a start with samples before it. */
    boolean awaitsFirst() {
        return awaitsFirst;
    }

    /** Notes that a message came that the decoder took or dropped; the first after a start has been seen. */
    void onFirst(long atNs) {
        awaitsFirst = false;
        if (firstSinceStartNs < 0) {
            firstSinceStartNs = atNs;
        }
    }

    /**
     * Takes a message.
     *
     * @param samples the message.
     * @param frame its bytes.
     * @param length how many.
     * @param atNs when it arrived.
     * @param unbroken whether it follows the one before without anything missing or damaged between.
     */
    void onSamples(SamplesView samples, byte[] frame, int length, long atNs, boolean unbroken) {
        Evidence proof = Evidence.of(frame, 0, length, false, atNs);
        judgeContent(samples, proof);
        boolean follows = started && unbroken && !cutNext;
        cutNext = false;
        tick = started ? tick : samples.tick();
        long unwrapped = tick + (int) (samples.tick() - tick);
        if (follows && unwrapped <= tick) {
            ledger.broken(
                    Rule.TICK_FORWARD,
                    "the tick went from " + (tick & 0xFFFF_FFFFL) + " to " + samples.tick(),
                    last == null ? proof : last,
                    proof);
            cutNext = true;
        } else if (follows) {
            ledger.holds(Rule.TICK_FORWARD);
        }
        boolean cut = !follows || cutNext;
        if (!cutNext) {
            tick = unwrapped;
        }
        if (!cutNext && !paused) {
            boolean marked = (samples.status() & SamplesView.STATUS_DEVICE_LOSS) != 0;
            segment.add(unwrapped, samples.sampleCount(), atNs, cut, marked, Arrays.copyOf(frame, length));
        }
        started = true;
        messages++;
        arrivalNs = atNs;
        last = proof;
        onFirst(atNs);
    }

    private void judgeContent(SamplesView samples, Evidence proof) {
        Describe told = describe;
        if (told == null) {
            return;
        }
        int known = 0;
        for (Channel channel : told.channels()) {
            known |= 1 << channel.index();
        }
        int unknown = samples.channelMask() & ~known;
        if (unknown != 0) {
            ledger.broken(
                    Rule.CHANNEL_MASK,
                    "channel " + Integer.numberOfTrailingZeros(unknown) + " is in it and not in describe",
                    proof);
            return;
        }
        ledger.holds(Rule.CHANNEL_MASK, proof);
        int position = 0;
        for (Channel channel : told.channels()) {
            if ((samples.channelMask() & 1 << channel.index()) != 0) {
                judgeRange(samples, position++, channel, proof);
            }
        }
    }

    private void judgeRange(SamplesView samples, int position, Channel channel, Evidence proof) {
        long lowest = -(1L << (channel.adcBits() - 1));
        long highest = (1L << channel.adcBits()) - 1;
        for (int i = 0; i < samples.sampleCount(); i++) {
            int counts = samples.counts(i, position);
            if (counts < lowest || counts > highest) {
                ledger.broken(
                        Rule.COUNT_RANGE,
                        String.format(
                                Locale.ROOT,
                                "%d counts on channel %d, and describe says %d bits",
                                counts,
                                channel.index(),
                                channel.adcBits()),
                        proof);
                return;
            }
        }
        ledger.holds(Rule.COUNT_RANGE);
    }

    /** Compares a tick of another message with that of the samples. */
    void onOtherTick(long otherTick, String what, long atNs, Evidence proof) {
        Describe told = describe;
        if (told == null || !started || atNs - arrivalNs > RECENT_NS) {
            return;
        }
        double apartS = Math.abs((double) (int) (otherTick - tick)) / told.tickRateHz();
        // A second, and the time since the last samples, lie between the two at most.
        if (apartS <= 2) {
            ledger.holds(Rule.ONE_CLOCK, proof);
        } else {
            Evidence samples = last;
            String text =
                    String.format(Locale.ROOT, "the tick of a %s is %.1f s from that of the samples", what, apartS);
            if (samples == null) {
                ledger.broken(Rule.ONE_CLOCK, text, proof);
            } else {
                ledger.broken(Rule.ONE_CLOCK, text, proof, samples);
            }
        }
    }

    long messages() {
        return messages;
    }

    /** Returns when the last samples arrived. */
    long arrivalNs() {
        return arrivalNs;
    }

    /** Returns when the first samples after the last start arrived; -1 where none did. */
    long firstSinceStartNs() {
        return firstSinceStartNs;
    }

    /** Returns the last samples message; null before the first. */
    @Nullable Evidence last() {
        return last;
    }
}

package io.heldmark.pipeline;

import io.heldmark.config.Config;
import io.heldmark.decode.DecodedFrame;
import io.heldmark.decode.LinkDecoder;
import io.heldmark.link.Link;
import io.heldmark.link.LinkState;
import io.heldmark.model.Counter;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.Status;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * The path of one link's bytes: decode, place in time, hand every channel its part.
 *
 * <p><b>Threading.</b> One thread; nothing is allocated per sample.
 */
final class LinkPath implements LinkDecoder.Listener {
    private static final int MAX_CHANNELS = 8;

    private LinkSetup setup;
    private final StationCore core;
    private final LinkDecoder decoder;
    private final LinkHealthDesk health;
    private final PingTable pings = new PingTable();
    private final LinkWarnings warnings;
    private final @Nullable ChannelPath[] channels = new @Nullable ChannelPath[MAX_CHANNELS];
    private @Nullable SampleClock clock;
    private long clockTickRateHz;
    private long seenBeforeDescribe;

    LinkPath(LinkSetup setup, StationCore core) {
        this.setup = setup;
        this.core = core;
        decoder = new LinkDecoder(setup.binding(), setup.address().options(), this);
        warnings = new LinkWarnings(setup.binding() == Link.Binding.GATT);
        health = new LinkHealthDesk(setup, decoder, core.settings().number(Config.LINK_LOST_AFTER_S));
    }

    LinkSetup setup() {
        return setup;
    }

    @Nullable SampleClock clock() {
        return clock;
    }

    /** Tells whether samples come. */
    boolean streaming() {
        return health.streaming();
    }

    LinkDecoder decoder() {
        return decoder;
    }

    void onChunk(long arrivalNs, byte[] bytes, int offset, int length) {
        decoder.onChunk(arrivalNs, bytes, offset, length);
        countUndescribed();
    }

    void onClock(long nowNs) {
        decoder.onClock(nowNs);
        countUndescribed();
    }

    private void countUndescribed() {
        if (decoder.samplesBeforeDescribe() != seenBeforeDescribe) {
            core.counters().add(Counter.SAMPLES_BEFORE_DESCRIBE, decoder.samplesBeforeDescribe() - seenBeforeDescribe);
            seenBeforeDescribe = decoder.samplesBeforeDescribe();
        }
    }

    void onBytesLost() {
        decoder.onBytesLost();
    }

    void onLinkState(LinkState state, String reason, long atNs) {
        if (state == LinkState.UP) {
            decoder.onUp();
            pings.clear();
            warnings.onUp();
            warn(reason.isEmpty() ? null : reason, atNs);
        }
        health.onLinkState(state, reason, atNs);
    }

    void onPingSent(int pingId, long sentNs) {
        pings.sent(pingId, sentNs);
    }

    /** Tells the listener of a change of state or, at the end of a second, of the state as it is. */
    void tellHealth(long nowNs, boolean endOfSecond) {
        if (endOfSecond) {
            health.endSecond(nowNs);
            warn(warnings.endSecond(nowNs, decoder.lostSamples()), nowNs);
        }
        if (endOfSecond || health.changed(nowNs)) {
            core.out().onLinkHealth(health.report(nowNs, clock));
        }
    }

    /** Returns the lowest number of the link's channels; greater than any number without channels. */
    int firstChannel() {
        int first = Integer.MAX_VALUE;
        for (ChannelPath channel : channels) {
            if (channel != null) {
                first = Math.min(first, channel.info().channel());
            }
        }
        return first;
    }

    /** Returns what a recording that begins now must know of this link. */
    ResumePoint.LinkPoint resumePoint(int number) {
        Describe device = decoder.describe();
        return new ResumePoint.LinkPoint(
                number, health.linkState(), health.linkReason(), device == null ? "" : ResumePoint.text(device));
    }

    /** Takes the link's state where a recording began within a session. */
    void resume(ResumePoint.LinkPoint point, long atNs) {
        onLinkState(point.state(), point.reason(), atNs);
        Describe device = ResumePoint.describe(point.describe());
        if (device != null) {
            decoder.know(device, atNs);
        }
    }

    /** Tells what is known of the device. */
    void tellDevice(StationCore.DeviceListener listener) {
        Describe device = decoder.describe();
        int capabilities = device == null || decoder.awaitsDescribe() ? -1 : device.capabilities();
        listener.onKnown(decoder.binding(), capabilities, health.streaming());
    }

    /** Gives up what the stages hold and builds them anew, after a fault in one of them. */
    void restartStages(long atNs) {
        decoder.dropHeld(); // may be what failed
        decoder.onBytesLost(); // what followed in the same read has not been looked at
        SampleClock before = clock;
        if (before != null) {
            clock = new SampleClock(clockTickRateHz, before); // no time may come before those that are given out
        }
        Describe device = decoder.describe();
        if (device != null) {
            makeChannels(device, atNs);
        }
    }

    @Override
    public void onFrame(DecodedFrame frame) {
        SampleClock times = clock;
        if (times == null) {
            times = makeClock();
        }
        times.onFrame(frame);
        health.onSamples(frame.arrivalNs);
        warnings.onSamples(frame.arrivalNs);
        int position = 0;
        for (int mask = frame.channelMask; mask != 0; mask &= mask - 1) { // the lowest bit goes
            ChannelPath channel = channels[Integer.numberOfTrailingZeros(mask)];
            if (channel != null) {
                channel.onFrame(frame, position, times);
            } else {
                core.counters().add(Counter.SAMPLES_OF_UNKNOWN_CHANNELS, frame.sampleCount);
            }
            position++;
        }
    }

    private SampleClock makeClock() {
        SampleClock made = new SampleClock(clockTickRateHz);
        clock = made;
        return made;
    }

    @Override
    public void onDescribe(Describe device, long atNs) {
        SampleClock before = clock;
        if (before != null && clockTickRateHz != device.tickRateHz()) {
            clock = new SampleClock(device.tickRateHz(), before);
        }
        clockTickRateHz = device.tickRateHz();
        makeChannels(device, atNs);
    }

    /** Takes the calibration that holds from now on; a re-evaluation stays in force. */
    void onCalibration(BoundCalibration calibration, long atNs) {
        setup = setup.choosing(calibration);
        Describe device = decoder.describe();
        if (device != null && device.deviceId().equals(calibration.deviceId())) {
            makeChannels(device, atNs);
        }
    }

    private void makeChannels(Describe device, long atNs) {
        for (ChannelPath channel : channels) {
            if (channel != null) {
                channel.end(atNs);
            }
        }
        Arrays.fill(channels, null);
        for (Channel channel : device.channels()) {
            channels[channel.index()] = core.placeChannel(setup, device, channel, atNs);
        }
        core.tellChannels(atNs);
        for (ChannelPath channel : channels) {
            if (channel != null) {
                channel.begin(core.settings(), atNs);
            }
        }
    }

    @Override
    public void onStatus(Status status, long atNs) {
        health.onStatus(status);
        warn(warnings.onCharge(status.batteryPercent().orElse(-1)), atNs);
    }

    @Override
    public void onReply(Reply reply, long atNs) {
        if (reply.result() != Reply.OK) {
            core.out().onNotice("warning", setup.name() + " refused a request: " + words(reply.result()), atNs);
        }
    }

    private void warn(@Nullable String text, long atNs) {
        if (text != null) {
            core.out().onNotice("warning", setup.name() + ": " + text, atNs);
        }
    }

    private static String words(int result) {
        return switch (result) {
            case Reply.UNKNOWN_OPCODE -> "it does not know it";
            case Reply.BAD_ARGUMENTS -> "its values are not allowed";
            case Reply.NOT_NOW -> "not in its present state";
            case Reply.NOT_SUPPORTED -> "it does not support it";
            case Reply.STORAGE_FAILED -> "its memory failed";
            default -> "result " + result;
        };
    }

    @Override
    public void onPong(int pingId, long receivedTick, long transmittedTick, long arrivalNs) {
        long sentNs = pings.take(pingId);
        SampleClock times = clock;
        if (sentNs < 0 || times == null) {
            core.counters().increment(Counter.PONGS_UNEXPECTED);
            return;
        }
        times.onPong(sentNs, receivedTick, transmittedTick, arrivalNs);
    }
}

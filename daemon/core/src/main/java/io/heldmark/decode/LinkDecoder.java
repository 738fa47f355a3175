package io.heldmark.decode;

import io.heldmark.link.Link;
import io.heldmark.protocol.AutoDecoder;
import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.Status;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.TextDecoder;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Bytes of one link to frames of counts, each with its place in the device's stream.
 *
 * <p><b>Samples before the description.</b> Ticks mean nothing before the device has said its tick rate: until then
 * samples are counted and dropped. After a reconnect the old description holds for devices that take no commands; from
 * any other a new one is awaited, because another cell may hang on the same line.
 *
 * <p><b>Errors.</b> Whatever arrives, nothing is thrown: what cannot be used is counted.
 *
 * <p><b>Threading.</b> Single writer; nothing is allocated per samples message.
 */
public final class LinkDecoder {
    /** Takes what a link says, on the thread that feeds the decoder. */
    public interface Listener {
        /** Takes a frame; reused after the call. */
        void onFrame(DecodedFrame frame);

        /** Takes a description that differs from the one before. */
        void onDescribe(Describe describe, long atNs);

        /** Takes a health report. */
        void onStatus(Status status, long atNs);

        /** Takes the answer to a command. */
        void onReply(Reply reply, long atNs);

        /**
         * Takes the answer to a ping.
         *
         * @param pingId number of the ping.
         * @param receivedTick unwrapped device tick at which the ping arrived.
         * @param transmittedTick unwrapped device tick at which the answer left.
         * @param arrivalNs station time of its arrival.
         */
        void onPong(int pingId, long receivedTick, long transmittedTick, long arrivalNs);
    }

    /** Bytes without one message after which a link counts as unreadable. */
    static final int UNREADABLE_BYTES = 512;

    private final Listener listener;
    private final StreamDecoder stream;
    private final DecoderCounters counters;
    private final Link.Binding binding;
    private final Handler handler = new Handler();
    private final @Nullable ReorderWindow window;
    private final DecodedFrame frame = new DecodedFrame();
    private @Nullable Describe describe;
    private @Nullable FramePlacer placer;
    private boolean awaitsDescribe = true;
    private long arrivalNs;
    private long seenRestarts;
    private long seenMissingFrames;
    private long samples;
    private long lostSamples;
    private long samplesBeforeDescribe;
    private long messagesAtUp;
    private long bytesAtUp;
    private long samplesBeforeDescribeAtUp;

    /** Makes a decoder for a link that is not up yet, of a device that speaks the protocol. */
    public LinkDecoder(Link.Binding binding, Listener listener) {
        this(binding, Map.of(), listener);
    }

    /**
     * Makes a decoder for a link that is not up yet.
     *
     * @param binding how messages are put into bytes.
     * @param options options of the link; they declare the layout of a board that prints numbers.
     * @param listener takes what the link says.
     */
    public LinkDecoder(Link.Binding binding, Map<String, String> options, Listener listener) {
        this.binding = binding;
        this.listener = listener;
        stream = switch (binding) {
            case AUTO -> new AutoDecoder(handler);
            case BYTES -> new ByteStreamDecoder(handler);
            case TEXT -> new TextDecoder(handler);
            case GATT -> new GattDecoder(handler);
            case NUMBERS -> new NumberDecoder(NumberLayout.of(options), handler);
        };
        counters = stream.counters();
        window = binding == Link.Binding.GATT ? new ReorderWindow(this::decode) : null;
    }

    /** Takes the bytes of one chunk. */
    public void onChunk(long chunkArrivalNs, byte[] bytes, int offset, int length) {
        if (window != null) {
            window.accept(chunkArrivalNs, bytes, offset, length);
        } else {
            decode(chunkArrivalNs, bytes, offset, length);
        }
    }

    /** Lets time pass: messages held to be put in order do not wait for the next one. */
    public void onClock(long nowNs) {
        if (window != null) {
            window.onClock(nowNs);
        }
    }

    private void decode(long chunkArrivalNs, byte[] bytes, int offset, int length) {
        arrivalNs = chunkArrivalNs;
        if (stream instanceof NumberDecoder numbers) {
            numbers.arrivedAt(chunkArrivalNs);
        }
        stream.accept(bytes, offset, length);
    }

    private void restartWindow() {
        if (window != null) {
            window.restart();
        }
    }

    /** Takes note that the link came up, for the first time or again. */
    public void onUp() {
        restartWindow();
        stream.reset();
        messagesAtUp = counters.messages;
        bytesAtUp = counters.bytes;
        samplesBeforeDescribeAtUp = samplesBeforeDescribe;
        if (placer != null) {
            placer.onReconnect();
        }
        awaitsDescribe = describe == null || (describe.capabilities() & Describe.CAN_COMMAND) != 0;
    }

    /** Takes note that bytes were lost between reader and decoder: what is half received is given up. */
    public void onBytesLost() {
        restartWindow();
        stream.reset();
        if (placer != null) {
            placer.onBytesLost();
        }
    }

    /** Gives up what waits to be put in order, after a fault in what takes it. */
    public void dropHeld() {
        if (window != null) {
            window.drop();
        }
    }

    /** Takes a description known from elsewhere, as at the start of a recording that began within a session. */
    public void know(Describe known, long atNs) {
        handler.takeDescribe(known, atNs);
    }

    /** Returns the device's description; absent until it has come. */
    public @Nullable Describe describe() {
        return describe;
    }

    /** Tells whether samples are being dropped because the description has not come. */
    public boolean awaitsDescribe() {
        return awaitsDescribe;
    }

    /** Returns the binding in use; {@code AUTO} while it is not found. */
    public Link.Binding binding() {
        if (stream instanceof AutoDecoder auto) {
            return switch (auto.found()) {
                case UNDECIDED -> Link.Binding.AUTO;
                case BYTES -> Link.Binding.BYTES;
                case TEXT -> Link.Binding.TEXT;
            };
        }
        return binding;
    }

    /** Tells whether bytes arrive that make no message: another baud rate, another binding or another protocol. */
    public boolean looksUnreadable() {
        DecoderCounters c = counters;
        boolean nothing = c.messages == messagesAtUp;
        boolean much = c.bytes - bytesAtUp >= UNREADABLE_BYTES;
        return nothing && (much || (stream instanceof AutoDecoder auto && auto.looksLikeWrongBaudRate()));
    }

    /** Returns the counters of the codec. */
    public DecoderCounters counters() {
        return counters;
    }

    /** Returns the messages that came late and were put into their places. */
    public long putBack() {
        return window == null ? 0 : window.putBack();
    }

    /** Returns the samples per channel handed on. */
    public long samples() {
        return samples;
    }

    /** Returns the samples per channel known to be missing. */
    public long lostSamples() {
        return lostSamples;
    }

    /** Returns the samples per channel dropped because the device had not described itself. */
    public long samplesBeforeDescribe() {
        return samplesBeforeDescribe;
    }

    /** Returns the same since the link came up. */
    public long samplesSinceUpWithoutDescribe() {
        return samplesBeforeDescribe - samplesBeforeDescribeAtUp;
    }

    private final class Handler implements MessageHandler {
        @Override
        public void onSamples(SamplesView view) {
            DecoderCounters c = counters;
            boolean restarted = c.restarts != seenRestarts;
            long missingFrames = c.missingFrames - seenMissingFrames;
            seenRestarts = c.restarts;
            seenMissingFrames = c.missingFrames;
            FramePlacer place = placer;
            if (place == null || awaitsDescribe) {
                samplesBeforeDescribe += view.sampleCount();
                return;
            }
            copy(view);
            boolean deviceLoss = (view.status() & SamplesView.STATUS_DEVICE_LOSS) != 0;
            place.place(frame, view.tick(), missingFrames, restarted, deviceLoss);
            samples += frame.sampleCount;
            lostSamples += Math.max(0, frame.missingBefore);
            listener.onFrame(frame);
        }

        private void copy(SamplesView view) {
            frame.arrivalNs = arrivalNs;
            frame.sampleCount = view.sampleCount();
            frame.channelMask = view.channelMask();
            frame.channelCount = view.channelCount();
            frame.status = view.status();
            frame.counts = view.counts();
        }

        @Override
        public void onDescribe(Describe next) {
            takeDescribe(next, arrivalNs);
        }

        void takeDescribe(Describe next, long atNs) {
            awaitsDescribe = false;
            Describe before = describe;
            if (next.equals(before)) {
                return;
            }
            describe = next;
            place(before, next);
            listener.onDescribe(next, atNs);
        }

        /** The ticks go on where the device and its tick rate are the same, also where its sample rate is not. */
        private void place(@Nullable Describe before, Describe next) {
            FramePlacer known = placer;
            boolean sameClock = before != null
                    && before.deviceId().equals(next.deviceId())
                    && before.tickRateHz() == next.tickRateHz();
            if (known == null || !sameClock) {
                FramePlacer made = new FramePlacer(next.tickRateHz(), next.sampleRateHz());
                if (known != null) {
                    made.takeOverFrom(known);
                }
                placer = made;
            } else {
                known.onSampleRate(next.sampleRateHz());
            }
        }

        @Override
        public void onStatus(Status status) {
            listener.onStatus(status, arrivalNs);
        }

        @Override
        public void onReply(Reply reply) {
            listener.onReply(reply, arrivalNs);
        }

        @Override
        public void onPong(int pingId, long receivedTick, long transmittedTick) {
            FramePlacer place = placer;
            if (place != null && !awaitsDescribe) {
                listener.onPong(
                        pingId,
                        place.unwrap(receivedTick, arrivalNs),
                        place.unwrap(transmittedTick, arrivalNs),
                        arrivalNs);
            }
        }
    }
}

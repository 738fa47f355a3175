package io.heldmark.pipeline;

import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.link.Link;
import io.heldmark.link.LinkState;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.protocol.BindingProbe;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.MessageEncoder;
import io.heldmark.protocol.TextEncoder;
import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Talks to one device: asks what it is, tells it to start, pings it at random moments.
 *
 * <p>Pings are dithered, so that none of their waits is the same all the time. A ping goes into the queue before it is sent, so that it stands in the recording before its answer.
 *
 * <p><b>Threading.</b> {@link #turn} on the station's timer, the rest on the acquisition thread or a link's reader.
 */
final class LinkSupervisor implements StationCore.DeviceListener {
    private static final long START_RETRY_NS = 2_000_000_000L;

    /** How soon it is seen that a link came up or a device said what it is; while it streams nothing of the kind is awaited. */
    private static final long WATCH_NS = 5_000_000L;

    private final int number;
    private final Link link;
    private final InputQueue queue;
    private final Counters counters;
    private final StationSettings settings;
    private final SplittableRandom random;
    private final byte[] buffer = new byte[256];
    private volatile boolean up;
    private volatile long upNs;
    private volatile int capabilities = -1;
    private volatile Link.Binding binding;
    private volatile boolean streaming;
    private long nextDescribeNs;
    private long nextStartNs;
    private long nextPingNs;
    private int token;
    private int pingId;

    LinkSupervisor(int number, Link link, InputQueue queue, Counters counters, StationSettings settings, long seed) {
        this.number = number;
        this.link = link;
        this.queue = queue;
        this.counters = counters;
        this.settings = settings;
        binding = link.binding();
        random = new SplittableRandom(seed);
    }

    /** Takes a change of the link's state. */
    void onState(LinkState state, long atNs) {
        capabilities = -1;
        streaming = false;
        upNs = atNs;
        up = state == LinkState.UP;
    }

    @Override
    public void onKnown(Link.Binding found, int deviceCapabilities, boolean isStreaming) {
        binding = found;
        capabilities = deviceCapabilities;
        streaming = isStreaming;
    }

    /**
     * Sends what is due.
     *
     * @return station time of the next turn, at the latest.
     */
    long turn(long nowNs) {
        if (binding == Link.Binding.NUMBERS) {
            return Long.MAX_VALUE; // A board that knows no protocol could take anything for anything.
        }
        if (!up) {
            nextDescribeNs = 0;
            nextStartNs = 0;
            return nowNs + WATCH_NS;
        }
        int can = capabilities;
        if (can < 0) {
            if (nowNs >= nextDescribeNs) {
                nextDescribeNs = nowNs + ns(settings.number(Config.LINK_DESCRIBE_RETRY_S));
                command(Command.DESCRIBE, nowNs);
            }
            return nowNs + WATCH_NS;
        }
        boolean streams = streaming;
        if ((can & Describe.CAN_COMMAND) != 0 && !streams && nowNs >= nextStartNs) {
            nextStartNs = nowNs + START_RETRY_NS;
            command(Command.START, nowNs);
        }
        boolean pings = (can & Describe.CAN_PING) != 0 && binding != Link.Binding.AUTO;
        if (pings && nowNs >= nextPingNs) {
            ping(nowNs);
        }
        long nextNs = pings ? nextPingNs : Long.MAX_VALUE;
        return streams ? nextNs : Math.min(nextNs, nowNs + WATCH_NS);
    }

    private void ping(long nowNs) {
        boolean isNew = nowNs - upNs < ns(settings.number(Config.PING_INITIAL_S));
        double rateHz = settings.number(isNew ? Config.PING_INITIAL_RATE_HZ : Config.PING_RATE_HZ);
        if (rateHz <= 0) {
            nextPingNs = nowNs + 1_000_000_000L;
            return;
        }
        nextPingNs = nowNs + (long) (random.nextDouble(0.5, 1.5) * 1e9 / rateHz);
        pingId = pingId + 1 & 0xFFFF;
        if (!queue.offer(new StationEvent.PingSent(number, pingId, nowNs), nowNs)) {
            counters.increment(Counter.INPUT_REQUESTS_REFUSED);
        } else if (send(encoder(binding).ping(pingId, buffer, 0), nowNs)) {
            counters.increment(Counter.PINGS_SENT);
        }
    }

    private void command(int opcode, long nowNs) {
        token = token + 1 & 0xFF;
        Link.Binding now = binding;
        if (now == Link.Binding.AUTO) {
            // Nothing but the description can be wanted yet: a device whose binding is not known is not known.
            send(BindingProbe.describe(token, buffer, 0), nowNs);
            return;
        }
        // A separator first: it ends what a probe, or a line that was cut, left behind.
        int start = now == Link.Binding.GATT ? 0 : 1;
        buffer[0] = (byte) (now == Link.Binding.TEXT ? '\n' : 0);
        Command command = new Command(opcode, token, new byte[0]);
        send(start + encoder(now).command(command, buffer, start), nowNs);
    }

    private static MessageEncoder encoder(Link.Binding binding) {
        return switch (binding) {
            case AUTO, BYTES -> new ByteStreamEncoder();
            case TEXT, NUMBERS -> new TextEncoder();
            case GATT -> new GattEncoder();
        };
    }

    private boolean send(int length, long nowNs) {
        byte[] bytes = Arrays.copyOf(buffer, length);
        boolean sent = link.send(bytes, 0, length);
        if (sent && !queue.offer(new StationEvent.BytesSent(number, bytes, nowNs), nowNs)) {
            counters.increment(Counter.INPUT_REQUESTS_REFUSED); // the recording does not hold what was said
        }
        return sent;
    }

    private static long ns(double seconds) {
        return (long) (seconds * 1e9);
    }
}

package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.AutoDecoder;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.MessageHandler;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * One conformance run against one sender.
 *
 * <p><b>Method.</b> It listens, asks for describe, and then goes through the steps that describe allows: stop, start, the
 * stream with pings, commands that are known, unknown and badly put, another rate, a stop that must be quiet, a start that
 * must run on, and input that nobody can use. Nothing that the device keeps is changed: no calibration is written, and a rate
 * is put back. A device without commands is only listened to.
 *
 * <p><b>Use.</b> {@link #onUp} once, then {@link #onBytes} for what arrives and {@link #onTime} every few milliseconds, until
 * {@link #isOver}. Time is an argument everywhere, in nanoseconds, and does not go back.
 *
 * <p><b>Errors.</b> Whatever arrives, nothing is thrown: it is what is to be judged.
 *
 * <p><b>Threading.</b> Not thread-safe.
 */
public final class Conformance {
    private static final long MS = 1_000_000L;
    private static final long LISTEN_NS = 1500 * MS;
    private static final long ASK_EVERY_NS = 1000 * MS;
    private static final long GIVE_UP_NS = 14_000 * MS;

    private final Options options;
    private final Talk.Outlet outlet;
    private final Ledger ledger = new Ledger();
    private final Transmitter transmitter = new Transmitter();
    private final StreamWatch stream;
    private final List<byte[]> kept = new ArrayList<>();
    private final List<Long> keptNs = new ArrayList<>();
    private final AutoDecoder probe = new AutoDecoder(new MessageHandler() {});
    private Binding binding;
    private @Nullable FrameSplitter splitter;
    private @Nullable Inspector inspector;
    private @Nullable Talk talk;
    private Deque<Step> steps = new ArrayDeque<>();
    private @Nullable Step step;
    private int tokens;
    private long upNs = -1;
    private long askedNs = -1;
    private long firstAskedNs = Long.MAX_VALUE;
    private long nowNs;
    private long bytes;
    private boolean scripted;
    private boolean over;
    private String broke = "";

    /**
     * Prepares a run.
     *
     * @param binding how messages are put into bytes; {@code AUTO} finds it out.
     * @param options how.
     * @param send takes bytes to the device; with GATT the first byte names the characteristic.
     */
    public Conformance(Binding binding, Options options, Sender send) {
        this.binding = binding;
        this.options = options;
        outlet = send::send;
        stream = new StreamWatch(ledger, options);
    }

    /** Takes bytes to the device. */
    @FunctionalInterface
    public interface Sender {
        /** Sends bytes; returns false where the link cannot. */
        boolean send(byte[] bytes, int offset, int length);
    }

    /** Takes note that the link is up. */
    public void onUp(long atNs) {
        nowNs = atNs;
        upNs = atNs;
        if (binding != Binding.AUTO) {
            open();
        }
    }

    /** Takes note that the link broke, which ends the run. */
    public void onDown(String reason, long atNs) {
        if (upNs >= 0 && !over) {
            nowNs = atNs;
            end("the link broke: " + reason);
        }
    }

    /** Takes bytes as one read returned them. */
    public void onBytes(byte[] chunk, int offset, int length, long arrivalNs) {
        if (over || upNs < 0) {
            return;
        }
        nowNs = Math.max(nowNs, arrivalNs);
        bytes += length;
        FrameSplitter open = splitter;
        if (open != null) {
            open.accept(chunk, offset, length, arrivalNs);
            return;
        }
        kept.add(Arrays.copyOfRange(chunk, offset, offset + length));
        keptNs.add(arrivalNs);
        probe.accept(chunk, offset, length);
        if (probe.found() != AutoDecoder.Found.UNDECIDED) {
            binding = probe.found() == AutoDecoder.Found.TEXT ? Binding.TEXT : Binding.BYTES;
            FrameSplitter opened = open();
            for (int i = 0; i < kept.size(); i++) {
                opened.accept(kept.get(i), 0, kept.get(i).length, keptNs.get(i));
            }
            kept.clear();
            keptNs.clear();
        }
    }

    /** Goes on with the run; to be called every few milliseconds. */
    public void onTime(long atNs) {
        nowNs = Math.max(nowNs, atNs);
        if (over || upNs < 0) {
            return;
        }
        Talk speaking = talk;
        Describe describe = speaking == null ? null : speaking.describe();
        if (!scripted && nowNs - upNs >= LISTEN_NS) {
            if (speaking != null && describe != null) {
                scripted = true;
                steps = new Script(binding, speaking, stream, ledger, options, transmitter).stepsFor(describe);
            } else {
                askForDescribe(speaking);
            }
        }
        if (scripted && speaking != null) {
            runSteps(speaking);
        }
    }

    private void runSteps(Talk speaking) {
        Step running = step;
        while (!over) {
            if (running != null && !running.done().test(nowNs)) {
                break;
            }
            running = steps.poll();
            if (running == null) {
                speaking.judgeSilence(nowNs);
                end("");
            } else {
                running.begin().accept(nowNs);
            }
        }
        step = running;
    }

    private void askForDescribe(@Nullable Talk speaking) {
        Inspector judging = inspector;
        if (judging != null && judging.saysOtherVersion()) {
            end("");
        } else if (nowNs - upNs > GIVE_UP_NS) {
            if (speaking != null && bytes > 0) {
                ledger.broken(Rule.DESCRIBE, "no describe that can be used came within 14 s");
            }
            end(bytes == 0 ? "nothing came" : speaking == null ? "no message of the protocol came" : "");
        } else if (askedNs < 0 || nowNs - askedNs >= ASK_EVERY_NS) {
            askedNs = nowNs;
            firstAskedNs = Math.min(firstAskedNs, nowNs);
            if (speaking == null) {
                byte[] wire = transmitter.command(binding, new Command(Command.DESCRIBE, tokens++, new byte[0]));
                outlet.send(wire, 0, wire.length);
            } else {
                speaking.say(Transmitter.opening(binding));
                speaking.ask(Command.DESCRIBE, new byte[0], nowNs);
            }
        }
    }

    private FrameSplitter open() {
        Talk opened = new Talk(binding, ledger, options, outlet, transmitter, tokens);
        opened.firstSentAt(firstAskedNs);
        Inspector judging = new Inspector(binding, ledger, stream, opened);
        FrameSplitter splits = new FrameSplitter(binding, judging::take);
        talk = opened;
        inspector = judging;
        splitter = splits;
        return splits;
    }

    private void end(String reason) {
        stream.endStretch();
        broke = reason;
        over = true;
        step = null;
    }

    /** Returns whether the run has come to its end. */
    public boolean isOver() {
        return over;
    }

    /** Returns what it is doing, for people who wait; empty where there is nothing to say. */
    public String doing() {
        Step running = step;
        if (running != null) {
            return running.what();
        }
        return upNs < 0 ? "waiting for the link" : over ? "" : "listening, and asking for describe";
    }

    /** Returns what was found so far. */
    public Report report() {
        Inspector judging = inspector;
        return new Report(
                judging == null ? "unknown" : binding.name().toLowerCase(Locale.ROOT),
                talk == null ? null : talk.describe(),
                upNs < 0 ? 0 : (nowNs - upNs) * 1e-9,
                bytes,
                judging == null ? 0 : judging.counters().messages,
                broke,
                ledger.results());
    }
}

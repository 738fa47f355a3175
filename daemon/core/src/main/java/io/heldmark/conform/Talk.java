package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.Status;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** What station and device say to each other: commands with their replies, describe and status, asked for and not. */
final class Talk {
    /** After this a reply is missing, not late. */
    static final long GIVEN_UP_NS = 1_500_000_000L;

    private static final long REPLY_NS = 200_000_000L;
    private static final long SOONEST_NS = 900_000_000L;
    private static final long LATEST_NS = 10_500_000_000L;

    private final Binding binding;
    private final Ledger ledger;
    private final Options options;
    private final Outlet outlet;
    private final Transmitter transmitter;
    private final Pings pings;
    private final Map<Integer, Asked> asked = new LinkedHashMap<>();
    private @Nullable Asked pending;
    private @Nullable Describe describe;
    private @Nullable Status status;
    /** Tokens below it were used while the binding was not known. */
    private final int firstToken;

    private int nextToken;
    private int forbiddenToken = -1;
    private long firstSentNs = Long.MAX_VALUE;
    private long startSentNs = Long.MAX_VALUE;
    private boolean poweredUp;
    private long samplesBeforeStart;
    private long describedNs = -1;
    private long statusNs = -1;

    /** Takes bytes to the device. */
    @FunctionalInterface
    interface Outlet {
        /** Sends bytes; returns false where the link cannot. */
        boolean send(byte[] bytes, int offset, int length);
    }

    Talk(Binding binding, Ledger ledger, Options options, Outlet outlet, Transmitter transmitter, int nextToken) {
        this.binding = binding;
        this.ledger = ledger;
        this.options = options;
        this.outlet = outlet;
        this.transmitter = transmitter;
        this.nextToken = nextToken;
        firstToken = nextToken;
        pings = new Pings(ledger);
    }

    /** Notes when the first command was sent, which may have been before the binding was known. */
    void firstSentAt(long atNs) {
        firstSentNs = Math.min(firstSentNs, atNs);
    }

    /** Sends a command. */
    Asked ask(int opcode, byte[] arguments, long nowNs) {
        Command command = new Command(opcode, nextToken++, arguments);
        byte[] wire = transmitter.command(binding, command);
        Asked sent = new Asked(opcode, command.token(), nowNs, Evidence.of(wire, 0, wire.length, true, nowNs));
        asked.put(sent.token, sent);
        pending = sent;
        firstSentAt(nowNs);
        if (opcode == Command.START) {
            startSentNs = Math.min(startSentNs, nowNs);
        }
        outlet.send(wire, 0, wire.length);
        return sent;
    }

    /** Returns a command that no device may obey, because it is sent broken. */
    Command forbidden() {
        forbiddenToken = nextToken;
        return new Command(Command.STATUS, nextToken++, new byte[0]);
    }

    /** Sends a ping. */
    void ping(long nowNs) {
        int id = pings.next(nowNs);
        byte[] wire = transmitter.ping(binding, id);
        outlet.send(wire, 0, wire.length);
    }

    /** Judges the pings that were sent; later pongs do not count. */
    void endPings() {
        pings.end();
    }

    void onSamples(long atNs) {
        samplesBeforeStart += atNs < startSentNs ? 1 : 0;
    }

    void onDescribe(Describe told, boolean firstMessage, boolean firstFrame, long atNs, Evidence proof) {
        Describe before = describe;
        if (before == null) {
            judgeFirst(told, firstMessage, firstFrame, atNs, proof);
        } else {
            judgeInterval(told, atNs, proof);
        }
        if (before != null && !before.deviceId().equals(told.deviceId())) {
            ledger.broken(Rule.DESCRIBE, "the device id changed", proof);
        } else {
            ledger.holds(Rule.DESCRIBE, proof);
        }
        describe = told;
        describedNs = atNs;
        Asked asks = pending;
        if (asks != null) {
            asks.describe = told;
            asks.describedFirst |= !asks.isAnswered();
        }
    }

    private void judgeFirst(Describe told, boolean firstMessage, boolean firstFrame, long atNs, Evidence proof) {
        ledger.holds(Rule.VERSION, proof);
        ledger.holds(Rule.TYPES);
        String text = told.deviceId() + ", " + told.channels().size() + " channel(s), " + told.sampleRateHz() + " Hz";
        ledger.says(Rule.DESCRIBE, text);
        if (told.tickRateHz() >= 10_000) {
            ledger.holds(Rule.TICK_RESOLUTION, proof);
        } else {
            ledger.advises(Rule.TICK_RESOLUTION, "the tick runs at " + told.tickRateHz() + " Hz", proof);
        }
        boolean unasked = atNs < firstSentNs;
        poweredUp = unasked && firstMessage && takesCommands(told);
        if (poweredUp && binding == Binding.BYTES) {
            if (firstFrame) {
                ledger.broken(Rule.OPENING, "describe is the first that came, without 0x00 before it", proof);
            } else {
                ledger.holds(Rule.OPENING);
            }
        }
    }

    private void judgeInterval(Describe told, long atNs, Evidence proof) {
        if (takesCommands(told)) {
            return;
        }
        double apartS = (atNs - describedNs) * 1e-9;
        String text = String.format(Locale.ROOT, "%.1f s from one to the next", apartS);
        if (atNs - describedNs < SOONEST_NS || atNs - describedNs > LATEST_NS) {
            ledger.broken(Rule.DESCRIBE_REPEAT, text, proof);
        } else {
            ledger.holds(Rule.DESCRIBE_REPEAT, proof);
            ledger.says(Rule.DESCRIBE_REPEAT, text);
        }
    }

    /** Judges at the end whether a device without commands was silent about itself for too long. */
    void judgeSilence(long nowNs) {
        Describe told = describe;
        if (told != null && !takesCommands(told) && nowNs - describedNs > LATEST_NS) {
            ledger.broken(Rule.DESCRIBE_REPEAT, "no describe for " + (nowNs - describedNs) / 1_000_000_000L + " s");
        }
    }

    /** Judges, right before the first start, whether the device waited for it. */
    void judgeWaiting() {
        Describe told = describe;
        if (told == null || !takesCommands(told)) {
            return;
        }
        if (samplesBeforeStart == 0) {
            ledger.holds(Rule.WAITS_FOR_START);
        } else if (poweredUp || binding == Binding.GATT) {
            ledger.broken(Rule.WAITS_FOR_START, samplesBeforeStart + " samples messages came before start");
        } else {
            ledger.says(Rule.WAITS_FOR_START, "it streamed already when the check began, which it may");
        }
    }

    void onStatus(Status told, long atNs, Evidence proof) {
        status = told;
        Asked asks = pending;
        if (asks != null && asks.opcode == Command.STATUS) {
            asks.statusFirst |= !asks.isAnswered();
            if (atNs - asks.sentNs < GIVEN_UP_NS) {
                return;
            }
        }
        if (statusNs >= 0) {
            double apartS = (atNs - statusNs) * 1e-9;
            String text = String.format(Locale.ROOT, "%.2f s from one to the next", apartS);
            if (atNs - statusNs < SOONEST_NS) {
                ledger.broken(Rule.STATUS_INTERVAL, text, proof);
            } else {
                ledger.holds(Rule.STATUS_INTERVAL, proof);
                ledger.says(Rule.STATUS_INTERVAL, text);
            }
        }
        statusNs = atNs;
    }

    void onPong(int id, long receivedTick, long transmittedTick, long atNs, Evidence proof) {
        Describe told = describe;
        if (told != null) {
            pings.onPong(id, (int) (transmittedTick - receivedTick) / (double) told.tickRateHz(), proof);
        }
    }

    void onReply(Reply reply, long atNs, Evidence proof) {
        Asked asks = asked.get(reply.token());
        Asked waiting = pending;
        if (reply.token() == forbiddenToken) {
            ledger.broken(Rule.RECOVERY, "a command in a frame with a wrong check was obeyed", proof);
            return;
        }
        if (asks != null && asks.opcode == reply.opcode()) {
            if (asks.isAnswered()) {
                ledger.broken(Rule.REPLY_MATCH, "a second reply to one command", proof);
            } else {
                ledger.holds(Rule.REPLY_MATCH, proof);
                answer(asks, reply, atNs, proof);
            }
        } else if (waiting != null
                && !waiting.isAnswered()
                && (waiting.opcode == reply.opcode() || waiting.token == reply.token())) {
            ledger.broken(Rule.REPLY_MATCH, "a reply with another opcode or token", waiting.sent, proof);
            answer(waiting, reply, atNs, proof);
        } else if (reply.token() >= firstToken) {
            ledger.broken(Rule.REPLY_MATCH, "a reply that nothing asked for", proof);
        }
    }

    private void answer(Asked asks, Reply reply, long atNs, Evidence proof) {
        asks.reply = reply;
        asks.replyBytes = proof;
        asks.repliedNs = atNs;
        long tookNs = atNs - asks.sentNs;
        String text = String.format(Locale.ROOT, "%.1f ms to the reply", tookNs * 1e-6);
        if (tookNs <= REPLY_NS + options.allowanceNs()) {
            ledger.holds(Rule.REPLY_TIME, proof);
            ledger.says(Rule.REPLY_TIME, text);
        } else {
            ledger.broken(Rule.REPLY_TIME, text, asks.sent, proof);
        }
    }

    static boolean takesCommands(Describe describe) {
        return (describe.capabilities() & Describe.CAN_COMMAND) != 0;
    }

    boolean can(int capability) {
        Describe told = describe;
        return told != null && takesCommands(told) && (told.capabilities() & capability) != 0;
    }

    @Nullable Describe describe() {
        return describe;
    }

    long describedNs() {
        return describedNs;
    }

    /** Returns the first channel; null before a describe. */
    @Nullable Channel firstChannel() {
        Describe told = describe;
        return told == null ? null : told.channels().get(0);
    }

    /** Returns the frames rejected that the last status told of; -1 before one. */
    int rejected() {
        Status told = status;
        return told == null ? -1 : told.rejectedFrameCount();
    }

    /** Sends bytes as they are; nothing where there are none. */
    void say(byte[] bytes) {
        if (bytes.length > 0) {
            outlet.send(bytes, 0, bytes.length);
        }
    }
}

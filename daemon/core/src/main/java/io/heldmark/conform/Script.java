package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.CalibrationBytes;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.protocol.Reply;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.LongConsumer;

/** The steps of a run once the device has described itself. */
final class Script {
    private static final long MS = 1_000_000L;
    private static final long STARTS_NS = 500 * MS;
    private static final long STARTS_AT_ALL_NS = 4000 * MS;
    private static final long AFTER_STOP_NS = 250 * MS;
    private static final long READ_NS = 1000 * MS;
    private static final long QUIET_NS = 1000 * MS;
    private static final long REPEAT_NS = 11_000 * MS;
    private static final int UNKNOWN_OPCODE = 0x7E;
    private static final byte[] NONE = new byte[0];

    private final Binding binding;
    private final Talk talk;
    private final StreamWatch stream;
    private final Ledger ledger;
    private final Options options;
    private final Transmitter transmitter;
    private final Deque<Step> steps = new ArrayDeque<>();
    private long mark;
    private long pingDueNs;
    private int pingNumber;
    private int rejectedBefore;
    private long rateBefore;

    Script(Binding binding, Talk talk, StreamWatch stream, Ledger ledger, Options options, Transmitter transmitter) {
        this.binding = binding;
        this.talk = talk;
        this.stream = stream;
        this.ledger = ledger;
        this.options = options;
        this.transmitter = transmitter;
    }

    /** Returns the steps for a device that described itself so. */
    Deque<Step> stepsFor(Describe describe) {
        if (Talk.takesCommands(describe)) {
            addCommands(describe);
        } else {
            long watchNs = Math.max((long) (options.streamS() * 1e9), REPEAT_NS);
            steps.add(pause("listening to a device without commands", watchNs));
        }
        return steps;
    }

    private void addCommands(Describe describe) {
        rateBefore = describe.sampleRateMilliHz();
        ask("stopping what may be running", Command.STOP, NONE, this::judgeAnswered);
        steps.add(pause("waiting until it is quiet", AFTER_STOP_NS));
        ask("asking for describe", Command.DESCRIBE, NONE, this::judgeDescribed);
        ask("asking for status", Command.STATUS, NONE, this::judgeStatus);
        addStart();
        addStream();
        ask("starting what runs already", Command.START, NONE, asked -> {
            judgeAnswered(asked);
            judgeResult(Rule.START_AGAIN, asked, asked.gave(Reply.OK), "result 0");
        });
        ask("asking for status", Command.STATUS, NONE, this::judgeStatus);
        ask("asking for describe", Command.DESCRIBE, NONE, this::judgeDescribed);
        ask("sending an unknown opcode", UNKNOWN_OPCODE, NONE, asked -> {
            judgeAnswered(asked);
            judgeResult(Rule.UNKNOWN_OPCODE, asked, asked.gave(Reply.UNKNOWN_OPCODE), "result 1");
        });
        addBadArguments();
        addCalibrations(describe);
        addRates(describe);
        addStop();
        addStart();
        steps.add(pause("watching the numbers run on", 600 * MS));
        addUnusable();
        ask("stopping", Command.STOP, NONE, unused -> {});
    }

    private void addStart() {
        steps.add(new Step(
                "starting",
                now -> {
                    talk.judgeWaiting();
                    stream.onStartSent();
                    current = talk.ask(Command.START, NONE, now);
                },
                now -> {
                    boolean came = stream.firstSinceStartNs() >= 0;
                    boolean over = now - current.sentNs > STARTS_AT_ALL_NS;
                    if ((!came && !over) || !isOver(current, now)) {
                        return false;
                    }
                    judgeAnswered(current);
                    judgeStart(current, came);
                    return true;
                }));
    }

    private void judgeStart(Asked asked, boolean came) {
        if (!came) {
            ledger.broken(Rule.START, "no samples came after start (" + asked.resultText() + ")", asked.evidence());
            return;
        }
        long tookNs = stream.firstSinceStartNs() - asked.sentNs;
        String text = tookNs / MS + " ms from start to the first samples";
        if (tookNs <= STARTS_NS + options.allowanceNs()) {
            ledger.holds(Rule.START, asked.sent);
            ledger.says(Rule.START, text);
        } else {
            ledger.broken(Rule.START, text, asked.evidence());
        }
    }

    /** Watches the stream, with 25 pings a second at times that share no period with anything. */
    private void addStream() {
        steps.add(new Step(
                "watching the stream",
                now -> {
                    mark = now + (long) (options.streamS() * 1e9);
                    pingDueNs = now;
                },
                now -> {
                    while (talk.can(Describe.CAN_PING) && now >= pingDueNs && now < mark) {
                        talk.ping(now);
                        pingNumber++;
                        // 25 to 55 ms, 40 on average, by the golden section: spread evenly and the same in every run.
                        double spread = pingNumber * 0.6180339887498949 % 1;
                        pingDueNs = now + 25 * MS + (long) (spread * 30 * MS);
                    }
                    return now >= mark;
                }));
        steps.add(pause("waiting for the last pongs", 300 * MS));
        steps.add(pause("", 0, now -> talk.endPings()));
    }

    private void addBadArguments() {
        if (talk.can(Describe.CAN_SET_RATE)) {
            ask("setting a rate with too few bytes", Command.SET_RATE, new byte[3], this::judgeBadArguments);
        }
        if (talk.can(Describe.CAN_READ_CALIBRATION)) {
            ask(
                    "reading the calibration of no channel",
                    Command.READ_CALIBRATION,
                    new byte[] {-1},
                    this::judgeBadArguments);
        }
        if (talk.can(Describe.CAN_IDENTIFY)) {
            ask("identifying without a time", Command.IDENTIFY, NONE, this::judgeBadArguments);
        }
    }

    private void judgeBadArguments(Asked asked) {
        judgeAnswered(asked);
        judgeResult(Rule.BAD_ARGUMENTS, asked, asked.gave(Reply.BAD_ARGUMENTS), "result 2");
    }

    private void addCalibrations(Describe describe) {
        if (!talk.can(Describe.CAN_READ_CALIBRATION)) {
            return;
        }
        for (Channel channel : describe.channels()) {
            byte[] argument = {(byte) channel.index()};
            ask("reading a calibration", Command.READ_CALIBRATION, argument, asked -> judgeCalibration(channel, asked));
        }
    }

    private void judgeCalibration(Channel channel, Asked asked) {
        judgeAnswered(asked);
        Optional<FactoryCalibration> told = channel.calibration();
        Reply reply = asked.reply;
        if (reply == null || (binding == Binding.GATT && asked.gave(Reply.NOT_NOW))) {
            return; // A small MTU has no room for it: the specification allows result 3 there.
        }
        boolean same = told.isEmpty()
                ? asked.gave(Reply.NOT_SUPPORTED)
                : asked.gave(Reply.OK)
                        && Arrays.equals(reply.data(), new CalibrationBytes(channel.index(), told.get()).toBytes());
        judgeResult(
                Rule.READ_CALIBRATION, asked, same, told.isEmpty() ? "result 4" : "result 0 and what describe says");
    }

    private void addRates(Describe describe) {
        if (!talk.can(Describe.CAN_SET_RATE)) {
            return;
        }
        Optional<Long> other = describe.supportedRatesMilliHz().stream()
                .filter(rate -> rate != describe.sampleRateMilliHz())
                .findFirst();
        if (other.isPresent()) {
            setRate("setting another rate", other.get());
            steps.add(pause("watching the stream at the other rate", 2500 * MS));
            setRate("setting the rate of before", rateBefore);
            steps.add(pause("watching the stream", 500 * MS));
        }
    }

    /** Over Bluetooth describe is read after the reply, among samples that have the new rate already: none are judged. */
    private void setRate(String what, long rateMilliHz) {
        steps.add(pause("", 0, now -> stream.pause()));
        ask(what, Command.SET_RATE, u32(rateMilliHz), asked -> {
            judgeRate(rateMilliHz, asked);
            stream.resume();
        });
    }

    private void judgeRate(long rateMilliHz, Asked asked) {
        judgeAnswered(asked);
        if (asked.reply == null || asked.gave(Reply.NOT_NOW)) {
            return;
        }
        Describe told = asked.describe;
        boolean described = told != null
                && told.sampleRateMilliHz() == rateMilliHz
                && (asked.describedFirst || binding == Binding.GATT);
        judgeResult(
                Rule.SET_RATE, asked, asked.gave(Reply.OK) && described, "describe with the new rate, then result 0");
    }

    private void addStop() {
        ask("stopping", Command.STOP, NONE, this::judgeAnswered);
        steps.add(pause("letting the last messages come", AFTER_STOP_NS));
        steps.add(new Step(
                "watching the silence",
                now -> {
                    stream.endStretch();
                    mark = stream.messages();
                    pingDueNs = now;
                },
                now -> {
                    if (now - pingDueNs < QUIET_NS) {
                        return false;
                    }
                    long more = stream.messages() - mark;
                    Evidence last = stream.last();
                    if (more == 0) {
                        ledger.holds(Rule.STOP, current.sent);
                    } else if (last != null) {
                        ledger.broken(Rule.STOP, more + " messages came after stop", current.sent, last);
                    }
                    return true;
                }));
    }

    private void addUnusable() {
        steps.add(new Step(
                "sending what no device can use",
                now -> {
                    rejectedBefore = talk.rejected();
                    mark = now;
                    pieces = transmitter.unusable(binding, talk.forbidden());
                    pingNumber = 0;
                },
                now -> {
                    if (pingNumber < pieces.size() && now - mark >= 20 * MS * pingNumber) {
                        talk.say(pieces.get(pingNumber++));
                    }
                    return now - mark >= 20 * MS * pieces.size() + 300 * MS;
                }));
        steps.add(pause("", 0, now -> talk.say(Transmitter.opening(binding))));
        ask("asking for status after it", Command.STATUS, NONE, this::judgeRecovery);
    }

    private List<byte[]> pieces = List.of();

    private void judgeRecovery(Asked asked) {
        if (!asked.isAnswered()) {
            ledger.broken(Rule.RECOVERY, "no reply to a command after unusable input", asked.evidence());
            return;
        }
        boolean streams = asked.repliedNs - stream.arrivalNs() < QUIET_NS;
        if (!streams) {
            ledger.broken(Rule.RECOVERY, "no more samples after unusable input", asked.evidence());
        } else {
            ledger.holds(Rule.RECOVERY, asked.evidence());
        }
        if (rejectedBefore >= 0 && asked.statusFirst) {
            int more = (talk.rejected() - rejectedBefore) & 0xFFFF;
            if (more > 0) {
                ledger.holds(Rule.REJECTED, asked.sent);
                ledger.says(Rule.REJECTED, "counted " + more + " for " + pieces.size() + " unusable pieces");
            } else {
                ledger.broken(Rule.REJECTED, "the count did not move by unusable input", asked.evidence());
            }
        }
    }

    private void judgeDescribed(Asked asked) {
        judgeAnswered(asked);
        if (binding != Binding.GATT && asked.gave(Reply.OK)) {
            judgeResult(Rule.DONE, asked, asked.describedFirst, "describe before the reply");
        }
    }

    private void judgeStatus(Asked asked) {
        judgeAnswered(asked);
        if (asked.gave(Reply.OK)) {
            judgeResult(Rule.DONE, asked, asked.statusFirst, "status before the reply");
        }
    }

    private void judgeAnswered(Asked asked) {
        if (!asked.isAnswered()) {
            ledger.broken(Rule.REPLY_TIME, "no reply within " + Talk.GIVEN_UP_NS / MS + " ms", asked.sent);
        }
    }

    /** Judges a result where there is one; that there is none is another rule's matter. */
    private void judgeResult(Rule rule, Asked asked, boolean holds, String due) {
        if (!asked.isAnswered()) {
            return;
        }
        if (holds) {
            ledger.holds(rule, asked.evidence());
        } else {
            ledger.broken(rule, asked.resultText() + " where this is due: " + due, asked.evidence());
        }
    }

    private Asked current = new Asked(0, 0, 0, new Evidence(0, true, "", 0));

    private void ask(String what, int opcode, byte[] arguments, Consumer<Asked> judge) {
        steps.add(new Step(what, now -> current = talk.ask(opcode, arguments, now), now -> {
            if (!isOver(current, now)) {
                return false;
            }
            judge.accept(current);
            return true;
        }));
    }

    /** A reply has come, or it is too late for one. Half a frame's time goes by before what follows it is judged. */
    private boolean isOver(Asked asked, long now) {
        boolean describes = asked.opcode == Command.DESCRIBE || asked.opcode == Command.SET_RATE;
        if (binding == Binding.GATT && describes && asked.gave(Reply.OK) && asked.describe == null) {
            return now - asked.repliedNs >= READ_NS; // The station reads the characteristic now.
        }
        return asked.isAnswered() ? now - asked.repliedNs >= 60 * MS : now - asked.sentNs > Talk.GIVEN_UP_NS;
    }

    private Step pause(String what, long lengthNs) {
        return pause(what, lengthNs, unused -> {});
    }

    private Step pause(String what, long lengthNs, LongConsumer begin) {
        long[] end = {0};
        return new Step(
                what,
                now -> {
                    end[0] = now + lengthNs;
                    begin.accept(now);
                },
                now -> now >= end[0]);
    }

    private static byte[] u32(long value) {
        return new byte[] {(byte) value, (byte) (value >> 8), (byte) (value >> 16), (byte) (value >> 24)};
    }
}

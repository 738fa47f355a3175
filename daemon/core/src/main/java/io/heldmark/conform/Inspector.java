package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.Status;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.TextDecoder;
import io.heldmark.protocol.Wire;
import org.jspecify.annotations.Nullable;

/**
 * Judges one frame, line or value after the other: what the decoder could not use, by the counter that it raised, and what
 * came in the wrong place.
 *
 * <p>The first frame of a byte stream or text link may be cut at its start by opening the link, so it is not judged where it
 * cannot be used. After damage neither numbers nor ticks are judged across it: one breach counts once.
 */
final class Inspector implements MessageHandler {
    private static final int FIRST_PRIVATE_TYPE = 0x80;
    private static final int CHECK_BYTES = 5;

    private final Binding binding;
    private final Ledger ledger;
    private final StreamWatch stream;
    private final Talk talk;
    private final StreamDecoder decoder;
    private final DecoderCounters before = new DecoderCounters();
    private byte[] frame = new byte[0];
    private int length;
    private long arrivalNs;
    private boolean first = true;
    private boolean damaged;
    private boolean anyMessage;
    private boolean justBegun = true;
    private boolean checkedLine;
    private boolean plainLine;
    private boolean foreignVersion;
    /** Whether this frame may hold the first samples after a start. */
    private boolean awaited;

    /** Whether something unusable came between the samples before and this frame. */
    private boolean damagedBefore;
    /** The last samples before this frame, and the last of all. */
    private @Nullable Evidence previous;

    private @Nullable Evidence newest;

    Inspector(Binding binding, Ledger ledger, StreamWatch stream, Talk talk) {
        this.binding = binding;
        this.ledger = ledger;
        this.stream = stream;
        this.talk = talk;
        decoder = switch (binding) {
            case TEXT -> new TextDecoder(this);
            case GATT -> new GattDecoder(this);
            default -> new ByteStreamDecoder(this);
        };
    }

    /** Takes one frame, line or value with its delimiter. */
    void take(byte[] bytes, int count, long atNs) {
        frame = bytes;
        length = count;
        arrivalNs = atNs;
        remember(decoder.counters());
        awaited = stream.awaitsFirst();
        damagedBefore = damaged;
        previous = newest;
        decoder.accept(bytes, 0, count);
        DecoderCounters now = decoder.counters();
        boolean unusable = judgeUse(now);
        judgeOrder(now);
        damaged |= unusable;
        if (!unusable && binding == Binding.TEXT) {
            judgeLineCheck();
        }
        first = false;
    }

    DecoderCounters counters() {
        return decoder.counters();
    }

    boolean saysOtherVersion() {
        return foreignVersion;
    }

    private void remember(DecoderCounters now) {
        before.crcFailures = now.crcFailures;
        before.malformed = now.malformed;
        before.oversized = now.oversized;
        before.messages = now.messages;
        before.gaps = now.gaps;
        before.missingFrames = now.missingFrames;
        before.duplicates = now.duplicates;
        before.reordered = now.reordered;
        before.restarts = now.restarts;
    }

    private boolean judgeUse(DecoderCounters now) {
        boolean unusable = now.crcFailures > before.crcFailures
                || now.malformed > before.malformed
                || now.oversized > before.oversized;
        if (unusable && first && binding != Binding.GATT) {
            return true;
        }
        if (now.crcFailures > before.crcFailures) {
            ledger.broken(Rule.CHECK, "a check or its stuffing is wrong; the line may be disturbed", evidence());
        }
        if (now.oversized > before.oversized) {
            ledger.broken(Rule.LIMIT, length + " bytes without an end that is due", evidence());
        }
        if (now.malformed > before.malformed) {
            Rule rule = isOfDescribe() ? Rule.DESCRIBE : Rule.MESSAGES;
            ledger.broken(rule, "a field is missing, wrong or out of range", evidence());
        }
        if (!unusable && now.messages > before.messages) {
            ledger.holds(Rule.MESSAGES);
            if (binding != Binding.GATT) {
                ledger.holds(Rule.LIMIT);
            }
            if (binding == Binding.BYTES) {
                ledger.holds(Rule.CHECK, evidence());
            }
        }
        return unusable;
    }

    private boolean isOfDescribe() {
        if (length < 2) {
            return false;
        }
        return switch (binding) {
            case TEXT -> frame[0] == 'D' || frame[0] == 'C' || frame[0] == 'K' || frame[0] == 'E';
            case GATT -> frame[0] == Wire.GATT_DESCRIBE;
            // The type is not zero, so it follows the first mark of the stuffing as it is.
            default -> frame[1] == Wire.DESCRIBE;
        };
    }

    private void judgeOrder(DecoderCounters now) {
        String words = "";
        if (now.duplicates > before.duplicates) {
            words = "a message came twice";
        } else if (now.reordered > before.reordered) {
            words = "a message has a number of before";
        } else if (now.restarts > before.restarts) {
            words = "the numbers begin anew";
        } else if (now.gaps > before.gaps && !damagedBefore) {
            words = (now.missingFrames - before.missingFrames) + " numbers are left out";
        }
        if (words.isEmpty()) {
            return;
        }
        if (awaited) {
            ledger.broken(Rule.SEQUENCE_RUNS_ON, words + " after a start", withLast());
            // Or the decoder would take all that follow for late ones.
            decoder.reset();
            stream.onFirst(arrivalNs);
        } else {
            ledger.broken(Rule.SEQUENCE, words, withLast());
        }
        awaited = false;
    }

    private Evidence[] withLast() {
        Evidence last = previous;
        return last == null ? new Evidence[] {evidence()} : new Evidence[] {last, evidence()};
    }

    private void judgeLineCheck() {
        int end = length - 1;
        end -= end > 0 && frame[end - 1] == '\r' ? 1 : 0;
        if (end < 1 || frame[0] == '#') {
            return;
        }
        boolean checked = end > CHECK_BYTES && frame[end - CHECK_BYTES] == '*';
        if (checked) {
            ledger.holds(Rule.CHECK, evidence());
        }
        boolean mixed = checked ? plainLine : checkedLine;
        checkedLine |= checked;
        plainLine |= !checked;
        if (mixed) {
            ledger.broken(Rule.TEXT_CHECKS, "lines with and lines without a check came", evidence());
        } else {
            ledger.holds(Rule.TEXT_CHECKS, evidence());
            ledger.says(Rule.TEXT_CHECKS, checked ? "all with" : "all without");
        }
    }

    @Override
    public void onSamples(SamplesView samples) {
        DecoderCounters now = decoder.counters();
        boolean unbroken = !damaged && now.gaps == before.gaps && now.restarts == before.restarts;
        talk.onSamples(arrivalNs);
        stream.onSamples(samples, frame, length, arrivalNs, unbroken);
        boolean judged = !justBegun && !damaged;
        if (awaited) {
            awaited = now.gaps > before.gaps || now.restarts > before.restarts;
            if (!awaited) {
                ledger.holds(Rule.SEQUENCE_RUNS_ON, evidence());
            }
        } else if (judged && unbroken) {
            ledger.holds(Rule.SEQUENCE, evidence());
        }
        justBegun = false;
        damaged = false;
        anyMessage = true;
        newest = evidence();
    }

    @Override
    public void onDescribe(Describe describe) {
        talk.onDescribe(describe, !anyMessage, first, arrivalNs, evidence());
        stream.onDescribe(describe);
        anyMessage = true;
    }

    @Override
    public void onStatus(Status status) {
        anyMessage = true;
        stream.onOtherTick(status.tick(), "status", arrivalNs, evidence());
        talk.onStatus(status, arrivalNs, evidence());
    }

    @Override
    public void onReply(Reply reply) {
        anyMessage = true;
        talk.onReply(reply, arrivalNs, evidence());
    }

    @Override
    public void onPong(int pingId, long receivedTick, long transmittedTick) {
        anyMessage = true;
        stream.onOtherTick(receivedTick, "pong", arrivalNs, evidence());
        talk.onPong(pingId, receivedTick, transmittedTick, arrivalNs, evidence());
    }

    @Override
    public void onCommand(Command command) {
        ledger.broken(Rule.TYPES, "a command came from the device; does it echo what it reads?", evidence());
    }

    @Override
    public void onPing(int pingId) {
        ledger.broken(Rule.TYPES, "a ping came from the device; does it echo what it reads?", evidence());
    }

    @Override
    public void onUnknown(int type, int messageLength) {
        if (type == Wire.DESCRIBE) {
            foreignVersion = true;
            ledger.broken(Rule.VERSION, "describe is of another major version", evidence());
        } else if (binding == Binding.TEXT || type < FIRST_PRIVATE_TYPE) {
            ledger.broken(Rule.TYPES, "a message of a type that is not given came", evidence());
        }
    }

    private Evidence evidence() {
        return Evidence.of(frame, 0, length, false, arrivalNs);
    }
}

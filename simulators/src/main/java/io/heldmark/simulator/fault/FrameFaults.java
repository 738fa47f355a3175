package io.heldmark.simulator.fault;

import io.heldmark.simulator.link.Frame;
import io.heldmark.simulator.link.FrameQueue;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.FaultSpec;
import io.heldmark.simulator.scenario.Range;
import io.heldmark.simulator.truth.DamageLog;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What happens to messages between device and link. A samples message suffers at most one fault, the first that strikes in
 * the order loss, corruption, reorder, duplicate, garbage; other messages pass.
 */
public final class FrameFaults {
    /** A message that nothing overtakes within this time goes on in its place. */
    private static final long LONGEST_HELD_NS = 100_000_000L;
    /** A samples message has at least eight bytes before its counts. */
    private static final int GARBAGE_VALUE_BYTES = 7;

    private static final byte STREAM_BYTE = 0x58;

    private final FaultSpec spec;
    private final boolean gatt;
    private final FrameQueue queue;
    private final DamageLog log;
    private final Strike loss;
    private final Strike corruption;
    private final Strike reorder;
    private final Strike duplicate;
    private final Strike garbage;
    private final SeededRandom downlink;
    private @Nullable Frame held;
    private boolean spoiled;

    /** Decides for one kind of fault which messages it strikes. */
    private final class Strike {
        private final String kind;
        private final FaultSpec.OnFrames fault;
        private final SeededRandom random;
        private final List<Double> listedS;
        private int listed;

        Strike(String kind, FaultSpec.OnFrames fault, SeededRandom random) {
            this.kind = kind;
            this.fault = fault;
            this.random = random.split(kind);
            listedS = fault.atS().stream().sorted().toList();
        }

        boolean strikes(double timeS) {
            boolean byChance = random.chance(fault.probability()) && timeS >= spec.fromS() && timeS <= spec.untilS();
            boolean asListed = listed < listedS.size() && timeS >= listedS.get(listed);
            if (asListed) {
                listed++;
            }
            return byChance || asListed;
        }

        int drawSize() {
            Range size = fault.size();
            return size == null ? 0 : size.drawWhole(random);
        }
    }

    /**
     * Makes the faults of a link.
     *
     * @param spec how often each.
     * @param gatt whether messages are GATT values, which arrive whole or not at all: garbage is a value of its own.
     * @param queue takes what is left of the frames.
     * @param log takes what was done.
     * @param random stream of these faults.
     */
    public FrameFaults(FaultSpec spec, boolean gatt, FrameQueue queue, DamageLog log, SeededRandom random) {
        this.spec = spec;
        this.gatt = gatt;
        this.queue = queue;
        this.log = log;
        loss = new Strike("loss", spec.loss(), random);
        corruption = new Strike("corruption", spec.corruption(), random);
        reorder = new Strike("reorder", spec.reorder(), random);
        duplicate = new Strike("duplicate", spec.duplicate(), random);
        garbage = new Strike("garbage", spec.garbage(), random);
        downlink = random.split("downlink");
    }

    /** Returns whether a message from the station is lost on its way to the device at a time, in seconds. */
    public boolean losesDownlink(double timeS) {
        boolean lost = downlink.chance(spec.loss().probability());
        return lost && timeS >= spec.fromS() && timeS <= spec.untilS();
    }

    /** Takes a frame from the device and queues what is left of it. */
    public void send(Frame frame) {
        Frame.Samples samples = frame.samples();
        if (samples == null) {
            queue.add(frame);
            return;
        }
        double timeS = frame.handoverNs() * 1e-9;
        // All are asked, so that one kind of fault does not move the draws of another.
        boolean lose = loss.strikes(timeS);
        boolean corrupt = corruption.strikes(timeS);
        boolean swap = reorder.strikes(timeS);
        boolean twice = duplicate.strikes(timeS);
        boolean dirty = garbage.strikes(timeS);
        Frame released = takeHeld();
        if (released != null && frame.handoverNs() - released.handoverNs() > LONGEST_HELD_NS) {
            queue.add(released.handedOverAt(frame.handoverNs() - 1)); // Nothing followed that could overtake it.
            released = null;
        }
        boolean overtaken = false;
        if (lose) {
            note(loss, samples, samples.count(), frame.length());
        } else if (corrupt) {
            corrupt(frame, samples);
        } else if (swap && released == null) {
            held = frame;
        } else {
            overtaken = queueWhole(frame, samples, twice, dirty);
        }
        if (released != null) {
            release(released, frame.handoverNs() + 1, overtaken);
        }
    }

    /** Takes the message that waits to be overtaken, if there is one: its link breaks. */
    public @Nullable Frame takeHeld() {
        Frame taken = held;
        held = null;
        return taken;
    }

    /** Lets a message go on that was held back; it is only late for who has seen the one behind it. */
    private void release(Frame late, long atNs, boolean overtaken) {
        Frame.Samples samples = late.samples();
        if (samples != null) {
            note(reorder, samples, overtaken ? samples.count() : 0, 0);
        }
        queue.add(late.handedOverAt(atNs));
    }

    /** Queues a message that is not lost itself; returns whether it will be seen. */
    private boolean queueWhole(Frame frame, Frame.Samples samples, boolean twice, boolean dirty) {
        boolean seen = !spoiled || twice;
        if (spoiled && !(dirty && !twice)) {
            noteSpoiled(samples);
        }
        if (dirty && !twice) {
            int size = garbage.drawSize();
            note(garbage, samples, gatt ? 0 : samples.count(), size);
            spoiled = false;
            if (gatt) {
                queue.add(frame.withPrefix(randomValue(size)));
                return true;
            }
            queue.add(frame.withPrefix(randomBytes(size)));
            return false;
        }
        queue.add(frame);
        if (twice) {
            note(duplicate, samples, 0, frame.length());
            queue.add(frame.copy());
        }
        return seen;
    }

    private void corrupt(Frame frame, Frame.Samples samples) {
        byte[] bytes = frame.copyOfBytes();
        int size = Math.min(corruption.drawSize(), bytes.length);
        boolean[] hit = new boolean[bytes.length];
        for (int i = 0; i < size; i++) {
            int at = corruption.random.between(0, bytes.length - 1);
            if (!hit[at]) {
                hit[at] = true;
                bytes[at] ^= (byte) corruption.random.between(1, 255);
            }
        }
        note(corruption, samples, samples.count(), size);
        // Without its end the message runs into the next one.
        spoiled = hit[bytes.length - 1];
        queue.add(frame.withBytes(bytes));
    }

    /** A message before this one lost its end, and takes this one with it. */
    private void noteSpoiled(Frame.Samples samples) {
        log.add(new DamageTruth(
                corruption.kind, samples.fromS(), samples.toS(), samples.sequence(), 1, samples.count(), 0));
        spoiled = false;
    }

    private byte[] randomBytes(int size) {
        byte[] bytes = new byte[size];
        for (int i = 0; i < size; i++) {
            bytes[i] = (byte) garbage.random.between(0, 255);
        }
        // An end of a message as the last byte would leave the message after it whole.
        int last = bytes[size - 1];
        bytes[size - 1] = last == 0 || last == '\n' ? (byte) 0xA5 : (byte) last;
        return bytes;
    }

    /** A value of the stream that is too short for a samples message and so cannot be taken for one. */
    private byte[] randomValue(int size) {
        byte[] random = randomBytes(Math.min(size, GARBAGE_VALUE_BYTES));
        byte[] value = new byte[random.length + 1];
        value[0] = STREAM_BYTE;
        System.arraycopy(random, 0, value, 1, random.length);
        return GattValues.framed(value, value.length);
    }

    private void note(Strike strike, Frame.Samples samples, int lost, int bytes) {
        log.add(new DamageTruth(strike.kind, samples.fromS(), samples.toS(), samples.sequence(), 1, lost, bytes));
    }
}

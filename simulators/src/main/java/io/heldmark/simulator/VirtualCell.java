package io.heldmark.simulator;

import io.heldmark.simulator.device.Answers;
import io.heldmark.simulator.device.Device;
import io.heldmark.simulator.fault.FaultTimes;
import io.heldmark.simulator.fault.FrameFaults;
import io.heldmark.simulator.fault.Windows;
import io.heldmark.simulator.force.ChannelTruths;
import io.heldmark.simulator.force.LimbForce;
import io.heldmark.simulator.force.Person;
import io.heldmark.simulator.link.Chunk;
import io.heldmark.simulator.link.Frame;
import io.heldmark.simulator.link.FrameQueue;
import io.heldmark.simulator.link.LinkModel;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.FaultSpec;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.CellTruth;
import io.heldmark.simulator.truth.ChannelTruth;
import io.heldmark.simulator.truth.DamageLog;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.ArrayList;
import java.util.List;

/**
 * A virtual cell on its link: a generator of what reaches a reader, and when, in virtual time.
 *
 * <p><b>Use.</b> Call {@link #advance()} until it returns false; after each call the reader gets {@link #length()} bytes at
 * {@link #dueNs()}. What the station sends goes in by {@link #receive}, at a time not before the last delivery. With
 * {@link #nextDueNs()} a shell can wait for the next delivery and still let a command or ping come in between.
 *
 * <p><b>GATT.</b> A delivery of a cell with the GATT binding holds values as in {@link io.heldmark.simulator.link.GattValues};
 * describe comes as a value, too, for the shell to keep and let be read. What is received is one value a call.
 *
 * <p><b>Time.</b> Nanoseconds of true time since the beginning of the scenario, the same for all its cells. Deliveries never go
 * back in time.
 *
 * <p><b>Same seed, same bytes.</b> Bytes, times and truth depend on the scenario and on what was received at which point between
 * deliveries, on nothing else.
 *
 * <p><b>Threading.</b> Not thread-safe.
 */
public final class VirtualCell {
    private final CellSpec cell;
    private final double untilS;
    private final Person person;
    private final Device device;
    private final Answers answers;
    private final LinkModel link;
    private final FrameQueue queue = new FrameQueue();
    private final FrameFaults faults;
    private final Windows stalls;
    private final Windows breaks;
    private final DamageLog log = new DamageLog();
    private final Chunk chunk = new Chunk();
    private int breakIndex;
    private boolean linkUp = true;
    private Kind kind = Kind.DATA;

    /** What a delivery is. */
    public enum Kind {
        /** Bytes. */
        DATA,
        /** The link went down; no bytes. */
        LINK_DOWN,
        /** The link is up again; no bytes. */
        LINK_UP
    }

    /**
     * Makes a cell of a scenario and switches it on at time 0.
     *
     * @param scenario the scenario.
     * @param cellIndex which of its cells, from 0.
     */
    public VirtualCell(Scenario scenario, int cellIndex) {
        cell = scenario.cells().get(cellIndex);
        untilS = scenario.lengthS();
        person = new Person(scenario);
        SeededRandom random = new SeededRandom(scenario.seed()).split("cell/" + cell.name());
        FaultSpec spec = cell.faults();
        faults =
                new FrameFaults(spec, cell.binding() == CellSpec.Binding.GATT, queue, log, random.split("frameFaults"));
        stalls = new Windows(times(spec, spec.burstDelay(), random.split("burstDelay")), "burst-delay", log);
        breaks = new Windows(times(spec, spec.disconnect(), random.split("disconnect")), "disconnect", log);
        link = LinkModel.of(cell.link(), random.split("link"));
        device = new Device(cell, person, untilS, this::take, log, random.split("device"));
        answers = new Answers(cell, device, faults::losesDownlink, random.split("answers"));
    }

    private static FaultTimes times(FaultSpec faults, FaultSpec.InTime spec, SeededRandom random) {
        return new FaultTimes(spec, faults.fromS(), faults.untilS(), random);
    }

    /** Returns when the next delivery is due if nothing is received before; {@link LinkModel#NEVER} where none comes. */
    public long nextDueNs() {
        while (true) {
            long dueNs = Math.min(dataDueNs(), linkEventNs());
            // The device must have lived up to that moment, or it might still send something that comes first.
            if (device.isOver() || device.isQuiet() || device.nowS() * 1e9 > dueNs) {
                return dueNs;
            }
            device.step();
        }
    }

    /** Goes on to the next delivery; returns false where none comes any more unless something is received. */
    public boolean advance() {
        long dueNs = nextDueNs();
        if (dueNs == LinkModel.NEVER) {
            return false;
        }
        chunk.begin(dueNs);
        if (linkEventNs() == dueNs) {
            changeLink();
        } else {
            kind = Kind.DATA;
            link.deliver(queue, chunk);
        }
        return true;
    }

    /**
     * Hangs a dead weight on the cell in place of the person from a time on. It is an input of the moment: the scenario does not
     * name it, and no truth knows of it.
     *
     * @param weightN its force in newtons; 0 for nothing.
     */
    public void hang(double weightN, long atNs) {
        for (CellSpec.ChannelSpec channel : cell.channels()) {
            person.limb(channel.limb()).hang(weightN, atNs * 1e-9);
        }
    }

    /** Gives the cell back to the person. */
    public void free() {
        for (CellSpec.ChannelSpec channel : cell.channels()) {
            person.limb(channel.limb()).free();
        }
    }

    /** Returns when the scenario ends, in nanoseconds; {@link LinkModel#NEVER} without an end. */
    public long endNs() {
        return untilS == Double.POSITIVE_INFINITY ? LinkModel.NEVER : Math.round(untilS * 1e9);
    }

    /** Returns what the last delivery is. */
    public Kind kind() {
        return kind;
    }

    /** Returns when the last delivery is due, in nanoseconds. */
    public long dueNs() {
        return chunk.dueNs();
    }

    /** Returns the buffer of the last delivery; reused by the next. */
    public byte[] bytes() {
        return chunk.bytes();
    }

    /** Returns the number of bytes of the last delivery; 0 where the link changed. */
    public int length() {
        return chunk.length();
    }

    /**
     * Takes bytes from the station.
     *
     * @param bytes buffer; not kept.
     * @param offset first byte.
     * @param length number of bytes.
     * @param atNs when the station sent them; not before the last delivery.
     */
    public void receive(byte[] bytes, int offset, int length, long atNs) {
        if (!breaks.contains(atNs)) {
            answers.receive(bytes, offset, length, link.atDeviceNs(atNs, length) * 1e-9);
        }
    }

    /**
     * Notes that bytes found no reader and are lost.
     *
     * @param atNs when they were due.
     * @param length number of bytes.
     */
    public void unread(long atNs, int length) {
        log.addUnread(atNs * 1e-9, length);
    }

    /** Returns what is true up to the point that has been simulated. */
    public CellTruth truth() {
        double simulatedS = Math.min(untilS, Math.max(device.nowS(), 0));
        List<ChannelTruth> channels = new ArrayList<>();
        for (int i = 0; i < cell.channels().size(); i++) {
            channels.add(channelTruth(i, simulatedS));
        }
        return new CellTruth(
                cell.name(),
                cell.deviceIdentity(),
                device.sampleRateHz(),
                cell.adc().averageS() / 2,
                channels,
                device.clock(),
                log.entries().stream().filter(d -> d.fromS() <= simulatedS).toList(),
                log.dropped(),
                device.samplesTaken(),
                device.messagesSent(),
                simulatedS);
    }

    private ChannelTruth channelTruth(int index, double simulatedS) {
        CellSpec.ChannelSpec channel = cell.channels().get(index);
        LimbForce limb = person.limb(channel.limb());
        ChannelTruths truths = new ChannelTruths(limb, channel.share());
        return new ChannelTruth(
                index,
                channel.name(),
                channel.limb(),
                channel.share(),
                cell.countsPerNewton(),
                cell.adc().offsetCounts(),
                truths.contractions(simulatedS),
                truths.disturbances(simulatedS),
                timeS -> channel.share() * limb.forceN(timeS));
    }

    /** Takes a message from the device; a link that is down loses it. */
    private void take(Frame frame) {
        if (breaks.contains(frame.handoverNs())) {
            Frame held = faults.takeHeld();
            if (held != null) {
                noteLost(held);
            }
            noteLost(frame);
        } else {
            faults.send(frame);
        }
    }

    private long dataDueNs() {
        long dueNs = link.dueNs(queue);
        return dueNs == LinkModel.NEVER ? dueNs : stalls.endOf(dueNs);
    }

    private long linkEventNs() {
        Windows.Window window = breaks.window(breakIndex);
        long eventNs = linkUp ? window.fromNs() : window.toNs();
        return eventNs <= untilS * 1e9 ? eventNs : LinkModel.NEVER;
    }

    private void changeLink() {
        if (linkUp) {
            kind = Kind.LINK_DOWN;
            queue.removeBefore(breaks.window(breakIndex).fromNs()).forEach(this::noteLost);
        } else {
            kind = Kind.LINK_UP;
            breakIndex++;
        }
        linkUp = !linkUp;
    }

    private void noteLost(Frame frame) {
        Frame.Samples samples = frame.samples();
        if (samples != null) {
            log.add(new DamageTruth(
                    "disconnect",
                    samples.fromS(),
                    samples.toS(),
                    samples.sequence(),
                    1,
                    samples.count(),
                    frame.length()));
        }
    }
}

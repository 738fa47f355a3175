package io.heldmark.pipeline;

import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkState;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Limb;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Command;
import io.heldmark.record.Recorder;
import io.heldmark.record.RecorderConfig;
import io.heldmark.record.RecordingHeader;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;

/**
 * A whole session in virtual time: virtual cells, clock inputs, commands and dithered pings through a core and, where
 * asked, a recorder, in the order in which a station would have them.
 */
final class VirtualSession {
    private static final long CLOCK_NS = 100_000_000L;

    final StationSettings settings;
    final Counters counters = new Counters();
    final List<VirtualCell> cells = new ArrayList<>();
    final List<LinkSetup> setups;
    private final StationCore core;
    private final @Nullable Recorder recorder;
    private final ByteStreamEncoder encoder = new ByteStreamEncoder();
    private final byte[] buffer = new byte[64];
    private final SplittableRandom random = new SplittableRandom(7);
    private long nextClockNs = CLOCK_NS;
    private final long[] nextPingNs;
    private int pingId;
    private boolean zeroAsked;
    private final long[] beforeDescribe = new long[8];
    private Person person = nowNs -> null;

    /** Whoever sits before the station; asked at every clock input. */
    interface Person {
        @Nullable StationEvent at(long nowNs);
    }

    void setPerson(Person who) {
        person = who;
    }

    ReviewDesk reviews() {
        return core.reviews();
    }

    VirtualSession(Path scenarioFile, StationListener out, @Nullable Path recording) {
        this(Scenario.load(scenarioFile), out, recording);
    }

    VirtualSession(Scenario scenario, StationListener out, @Nullable Path recording) {
        this(scenario, Config.defaults(), out, recording);
    }

    VirtualSession(Scenario scenario, StationSettings settings, StationListener out, @Nullable Path recording) {
        this.settings = settings;
        List<LinkSetup.Wanted> wanted = new ArrayList<>();
        Limb[] limbs = {Limb.LEFT, Limb.RIGHT};
        for (int i = 0; i < scenario.cells().size(); i++) {
            cells.add(new VirtualCell(scenario, i));
            wanted.add(
                    new LinkSetup.Wanted(LinkAddress.parse("serial:/dev/cell" + i + "?binding=bytes"), limbs[i % 2]));
        }
        setups = LinkSetup.of(wanted);
        nextPingNs = new long[cells.size()];
        core = new StationCore(settings, setups, out, counters);
        recorder = recording == null ? null : start(recording);
    }

    private Recorder start(Path file) {
        RecordingHeader header = new RecordingHeader(
                1_700_000_000_000_000_000L,
                "test",
                setups.stream().map(LinkFacts::write).toList(),
                settings.effectiveJson());
        return Recorder.start(file, header, status -> {}, RecorderConfig.withDefaults(new SystemStationClock()));
    }

    /** Runs until a virtual time and closes the recording. */
    void run(double untilS) {
        for (int i = 0; i < cells.size(); i++) {
            event(new StationEvent.LinkChanged(i, LinkState.UP, "", 0));
            ask(i, 0);
        }
        long nowNs = 0;
        while (nowNs < untilS * 1e9) {
            int next = 0;
            for (int i = 1; i < cells.size(); i++) {
                next = cells.get(i).nextDueNs() < cells.get(next).nextDueNs() ? i : next;
            }
            long dueNs = cells.get(next).nextDueNs();
            int pinged = duePing();
            if (Math.min(nextClockNs, nextPingNs[pinged]) < dueNs) {
                nowNs = Math.min(nextClockNs, nextPingNs[pinged]);
                if (nextPingNs[pinged] <= nextClockNs) {
                    ping(pinged, nowNs);
                } else {
                    clock(nowNs);
                }
            } else {
                nowNs = dueNs;
                deliver(next);
            }
        }
        if (recorder != null) {
            recorder.close();
        }
    }

    /** Returns the samples of a link that came before its device had described itself. */
    long beforeDescribe(int link) {
        return beforeDescribe[link];
    }

    private void deliver(int link) {
        VirtualCell cell = cells.get(link);
        cell.advance();
        long atNs = cell.dueNs();
        switch (cell.kind()) {
            case DATA -> {
                if (recorder != null && !recorder.chunk(link, atNs, cell.bytes(), 0, cell.length())) {
                    throw new AssertionError("the recorder's ring is full");
                }
                long before = counters.get(Counter.SAMPLES_BEFORE_DESCRIBE);
                core.onChunk(link, atNs, cell.bytes(), 0, cell.length());
                beforeDescribe[link] += counters.get(Counter.SAMPLES_BEFORE_DESCRIBE) - before;
            }
            case LINK_DOWN -> event(new StationEvent.LinkChanged(link, LinkState.DOWN, "unplugged", atNs));
            case LINK_UP -> {
                event(new StationEvent.LinkChanged(link, LinkState.UP, "", atNs));
                ask(link, atNs);
            }
        }
    }

    private void clock(long nowNs) {
        nextClockNs += CLOCK_NS;
        event(new StationEvent.ClockTick(nowNs));
        if (!zeroAsked && nowNs >= 1_000_000_000L) {
            zeroAsked = true;
            event(new StationEvent.ZeroAsked(List.of(), nowNs));
            event(new StationEvent.Marked("zero asked", nowNs));
        }
        StationEvent done = person.at(nowNs);
        if (done != null) {
            event(done);
        }
        if (nowNs % 1_000_000_000L == 0) {
            for (int i = 0; i < cells.size(); i++) {
                ask(i, nowNs);
            }
        }
    }

    private int duePing() {
        int due = 0;
        for (int i = 1; i < nextPingNs.length; i++) {
            due = nextPingNs[i] < nextPingNs[due] ? i : due;
        }
        return due;
    }

    private void ping(int link, long nowNs) {
        nextPingNs[link] = nowNs + random.nextLong(20_000_000L, 60_000_000L);
        pingId = pingId + 1 & 0xFFFF;
        event(new StationEvent.PingSent(link, pingId, nowNs));
        cells.get(link).receive(buffer, 0, encoder.ping(pingId, buffer, 0), nowNs);
    }

    private void ask(int link, long nowNs) {
        for (int opcode : new int[] {Command.DESCRIBE, Command.START}) {
            int length = encoder.command(new Command(opcode, opcode, new byte[0]), buffer, 0);
            cells.get(link).receive(buffer, 0, length, nowNs);
        }
    }

    private void event(StationEvent event) {
        String json = StationEventJson.write(event);
        if (recorder != null && json != null) {
            recorder.event(event.atNs(), json);
        }
        event.applyTo(core);
    }
}

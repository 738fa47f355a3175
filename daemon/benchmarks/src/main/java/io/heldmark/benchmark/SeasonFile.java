package io.heldmark.benchmark;

import io.heldmark.config.Config;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Command;
import io.heldmark.record.LinkHeader;
import io.heldmark.record.Recorder;
import io.heldmark.record.RecorderConfig;
import io.heldmark.record.RecorderStatus;
import io.heldmark.record.RecordingHeader;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.LockSupport;

/**
 * Writes a recording of simulated cells as fast as they can be computed: an hour, a day, a season.
 *
 * <pre>java -cp "target/dist/lib/*:daemon/benchmarks/target/classes" io.heldmark.benchmark.SeasonFile FILE SECONDS [SCENARIO]</pre>
 *
 * <p>As a station would have recorded it: link states, clock inputs ten times a second, a session zero after one second;
 * without pings. The data are invented.
 */
public final class SeasonFile {
    private static final long CLOCK_NS = 100_000_000L;
    private static final long ZERO_NS = 1_000_000_000L;
    private static final int PACKET_BYTES = 32; // At least; what a packet takes in the file beside its payload.
    private static final int CHECK_BYTES = 1 << 18;

    private final List<VirtualCell> cells = new ArrayList<>();
    private final Recorder recorder;
    private final ByteStreamEncoder encoder = new ByteStreamEncoder();
    private final byte[] command = new byte[64];
    private long handedBytes;
    private long checkedBytes;

    private SeasonFile(Path file, Scenario scenario) {
        List<LinkHeader> links = new ArrayList<>();
        for (int i = 0; i < scenario.cells().size(); i++) {
            cells.add(new VirtualCell(scenario, i));
            String limb = i % 2 == 0 ? "LEFT" : "RIGHT";
            String facts = "{\"channels\":[{\"deviceChannel\":-1,\"limb\":\"" + limb + "\"}]}";
            links.add(new LinkHeader("serial:/dev/cell" + i, "BYTES", facts));
        }
        RecordingHeader header = new RecordingHeader(
                1_700_000_000_000_000_000L,
                "benchmark",
                links,
                Config.defaults().effectiveJson());
        recorder = Recorder.start(file, header, status -> {}, RecorderConfig.withDefaults(new SystemStationClock()));
    }

    /** Writes a file. */
    public static void main(String[] args) {
        double seconds = Double.parseDouble(args[1]);
        write(Path.of(args[0]), seconds, Scenario.bundled(args.length > 2 ? args[2] : "demo"));
    }

    /** Writes a file of the cells of a scenario, this many seconds long. */
    static void write(Path file, double seconds, Scenario scenario) {
        SeasonFile season = new SeasonFile(file, scenario);
        season.run((long) (seconds * 1e9));
        season.recorder.close();
    }

    private void run(long untilNs) {
        for (int link = 0; link < cells.size(); link++) {
            event(0, "{\"event\":\"linkState\",\"link\":" + link + ",\"state\":\"UP\",\"reason\":\"\"}");
            tell(link, Command.DESCRIBE);
            tell(link, Command.START);
        }
        long clockNs = CLOCK_NS;
        long nowNs = 0;
        while (nowNs < untilNs) {
            int next = 0;
            for (int i = 1; i < cells.size(); i++) {
                next = cells.get(i).nextDueNs() < cells.get(next).nextDueNs() ? i : next;
            }
            VirtualCell cell = cells.get(next);
            if (clockNs < cell.nextDueNs()) {
                nowNs = clockNs;
                event(nowNs, nowNs == ZERO_NS ? "{\"event\":\"zero\",\"channels\":[]}" : "{\"event\":\"clock\"}");
                clockNs += CLOCK_NS;
            } else {
                nowNs = cell.nextDueNs();
                cell.advance();
                chunk(next, cell);
            }
        }
    }

    private void tell(int link, int opcode) {
        int length = encoder.command(new Command(opcode, opcode, new byte[0]), command, 0);
        cells.get(link).receive(command, 0, length, 0);
    }

    private void chunk(int link, VirtualCell cell) {
        taken(recorder.chunk(link, cell.dueNs(), cell.bytes(), 0, cell.length()));
        handedBytes += cell.length() + PACKET_BYTES;
        if (handedBytes - checkedBytes > CHECK_BYTES) {
            checkedBytes = handedBytes;
            breathe();
        }
    }

    private void event(long atNs, String json) {
        taken(recorder.event(atNs, json));
        handedBytes += json.length() + PACKET_BYTES;
    }

    private void taken(boolean yes) {
        if (!yes) {
            throw new IllegalStateException("the disk does not keep up: " + recorder.status());
        }
    }

    /** Cells at full speed outrun the disk: waits while much lies in the ring. */
    private void breathe() {
        while (recorder.status().state() != RecorderStatus.State.FAILED
                && handedBytes - recorder.status().bytes() > RecorderConfig.MIN_RING_BYTES / 2) {
            LockSupport.parkNanos(1_000_000);
        }
    }
}

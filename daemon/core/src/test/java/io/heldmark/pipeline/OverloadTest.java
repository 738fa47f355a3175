package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.model.CellOverload;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.RecordingState;
import io.heldmark.model.SampleBatch;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is told and kept when a cell carries more than it is rated for. */
class OverloadTest {
    private static final double RATED_N = 500;
    private static final long MS = 1_000_000L;

    private final List<CellOverload> told = new ArrayList<>();
    private final List<String> notices = new ArrayList<>();
    private final OverloadWatch watch = new OverloadWatch(cell("N", "cell-7"), new StationListener() {
        @Override
        public void onOverload(CellOverload overload) {
            told.add(overload);
        }

        @Override
        public void onNotice(String severity, String text, long atNs) {
            notices.add(severity + " " + text);
        }
    });
    private long nowMs;

    @TempDir
    Path folder;

    private static ChannelInfo cell(String unit, String deviceId) {
        return new ChannelInfo(
                0, "tcp:a:1", deviceId, 2, "left", Limb.LEFT, 100, 0, RATED_N, unit, "factory", 0.002, 1e-3);
    }

    private void carry(OverloadWatch by, double forceN, double zeroN, int ms, int flags) {
        SampleBatch batch = new SampleBatch(10);
        batch.count = 10;
        batch.flags = flags;
        for (int from = 0; from < ms; from += 100) {
            for (int i = 0; i < 10; i++) {
                batch.forceN[i] = forceN;
                batch.timeNs[i] = (nowMs + 10L * i) * MS;
            }
            by.onBatch(batch, zeroN);
            nowMs += 100;
        }
    }

    private void carry(double forceN, int ms) {
        carry(watch, forceN, 0, ms, 0);
    }

    @Test
    void shouldTellOneOverloadWithItsPeak() {
        carry(499, 500);
        assertEquals(List.of(), told);
        carry(520, 100);
        carry(-650, 200);
        carry(460, 3000); // Not yet over: above nine tenths.
        carry(100, 2000);
        carry(501, 100);
        assertEquals(
                List.of(520.0, 650.0, 501.0),
                told.stream().map(CellOverload::peakN).toList());
        assertEquals(
                List.of(500 * MS, 500 * MS, 5800L * MS),
                told.stream().map(CellOverload::sinceNs).toList());
        assertEquals(1.3, told.get(1).shareOfRated(), 1e-12);
        assertEquals(2, notices.size());
        assertTrue(notices.get(0).startsWith("warning left: its cell carries 520 N and is rated for 500 N"));
    }

    @Test
    void shouldCountWhatTheZeroTookOffAndTheEndOfTheConverter() {
        carry(watch, 400, 150, 200, SampleBatch.OVERLOAD);
        assertEquals(550, told.get(0).peakN(), 1e-9);
        assertTrue(told.get(0).atLeast());
        OverloadWatch counts = new OverloadWatch(cell("count", "cell-7"), new StationListener() {});
        carry(counts, 1e6, 0, 100, 0);
        counts.end();
        assertEquals(1, told.size());
    }

    @Test
    void shouldTellTheRestWhenTheChannelEnds() {
        carry(510, 100);
        carry(600, 300);
        watch.end();
        watch.end();
        assertEquals(
                List.of(510.0, 600.0), told.stream().map(CellOverload::peakN).toList());
    }

    @Test
    void shouldKeepEachOverloadOnceWithItsLargestPeak() {
        RecordingState on = new RecordingState("on", "a.pcapng", 1, 0, true, null);
        try (OverloadDesk desk = new OverloadDesk(folder, 1_767_225_600_000_000_000L, () -> on)) {
            desk.onChannels(List.of(cell("N", "cell-7")), List.of(), 0);
            desk.onOverload(new CellOverload(0, 5 * MS, 520, RATED_N, false));
            desk.onOverload(new CellOverload(0, 5 * MS, 650, RATED_N, true));
            desk.onOverload(new CellOverload(0, 9000 * MS, 501, RATED_N, false));
        }
        List<ObjectNode> kept = CellLog.overloads(folder).entries("cell-7", 2);
        assertEquals(2, kept.size());
        assertEquals("2026-01-01T00:00:00.005Z", kept.get(0).path("at").asText());
        assertEquals(1.3, kept.get(0).path("shareOfRated").asDouble(), 1e-12);
        assertTrue(kept.get(0).path("atLeast").asBoolean());
        assertEquals("a.pcapng", kept.get(1).path("recording").asText());
        assertFalse(kept.get(1).has("atLeast"));
    }

    @Test
    void shouldKnowADeviceWithoutIdentityByItsLinkAndLeaveABrokenFileAlone() throws Exception {
        Path broken = folder.resolve("overloads/tcp%3aa%3a1/2.json");
        Files.createDirectories(broken.getParent());
        Files.writeString(broken, "[");
        try (OverloadDesk desk = new OverloadDesk(folder, 0, () -> RecordingState.OFF)) {
            desk.onChannels(List.of(cell("N", "")), List.of(), 0);
            desk.onOverload(new CellOverload(0, 5 * MS, 520, RATED_N, false));
        }
        assertEquals("[", Files.readString(broken));
        Assertions.assertThrows(
                ConfigException.class, () -> CellLog.overloads(folder).entries("tcp:a:1", 2));
    }
}

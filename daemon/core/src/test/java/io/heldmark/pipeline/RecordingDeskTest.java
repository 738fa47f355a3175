package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.live.LiveFanout;
import io.heldmark.live.StationFacts;
import io.heldmark.live.ViewerConfig;
import io.heldmark.model.Contraction;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.MetricValue;
import io.heldmark.model.RecordingState;
import io.heldmark.record.LinkHeader;
import io.heldmark.record.RecordedItem;
import io.heldmark.record.RecordingReader;
import io.heldmark.testing.HandClock;
import io.heldmark.testing.Until;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(value = 60, unit = TimeUnit.SECONDS)
class RecordingDeskTest {
    private static final LinkHealth HEALTH =
            new LinkHealth("tcp:cell:1", "streaming", null, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -1, 0);

    /** The system takes 4095 bytes: enough for the folder of recordings, not for a file in it. */
    private static final int LONG_PATH = 4070;

    @TempDir
    Path folder;

    private final HandClock clock = new HandClock();
    private final Counters counters = new Counters();
    private final LiveFanout live =
            new LiveFanout(new StationFacts("test", "s", false, "", true), new ViewerConfig(1, 64, 1), clock, counters);

    private RecordingDesk desk(Path dataDir) {
        StationOptions options = new StationOptions(Config.defaults(), dataDir, clock, "test", true);
        return new RecordingDesk(options, List.of(new LinkHeader("tcp:cell:1", "BYTES", "{}")), live, counters);
    }

    private static Contraction contraction(Contraction.Revision revision) {
        return new Contraction(1, revision, 0, Limb.LEFT, 10, 1, 20, 30, 0, List.of(), List.of());
    }

    private List<String> items(RecordingState state) throws Exception {
        List<String> items = new ArrayList<>();
        RecordedItem item = new RecordedItem();
        Path file = folder.resolve("recordings").resolve(Objects.requireNonNull(state.file()));
        try (RecordingReader reader = RecordingReader.open(file)) {
            while (reader.next(item)) {
                boolean event = item.kind() == RecordedItem.Kind.EVENT;
                items.add(item.timeNs() + " " + item.kind() + " " + (event ? item.json() : item.length() + " bytes"));
            }
        }
        return items;
    }

    @Test
    void shouldHaveNoneBeforeItBegins() {
        RecordingDesk desk = desk(folder);
        assertEquals(RecordingState.OFF, desk.state());
        desk.chunk(0, 1, new byte[1], 0, 1);
        desk.event(new StationEvent.ClockTick(1));
        desk.onLinkHealth(HEALTH);
        desk.end();
        desk.close();
        assertFalse(Files.exists(folder.resolve("recordings")));
    }

    @Test
    void shouldRecordInputsInOrderAndResultsBesideThem() throws Exception {
        RecordingDesk desk = desk(folder);
        desk.begin(null, 0);
        assertEquals("on", desk.state().state());
        desk.chunk(0, 100, new byte[] {9, 1, 2, 3, 9}, 1, 3);
        desk.event(new StationEvent.BytesSent(0, new byte[] {4, 5}, 110));
        desk.event(new StationEvent.ClockTick(120));
        desk.onContraction(contraction(Contraction.Revision.PROVISIONAL));
        desk.onContraction(contraction(Contraction.Revision.WITHDRAWN));
        desk.onContraction(contraction(Contraction.Revision.FINAL));
        desk.onEffort(new Effort(1, 1, 2, 5, 1, MetricValue.notComputed("asymmetry.log", "no peak"), List.of()));
        desk.event(new StationEvent.Marked("after", 119)); // may be a little older than what came before
        desk.end();
        desk.close();
        RecordingState state = desk.state();
        assertEquals("off", state.state());
        assertTrue(state.complete());
        List<String> items = items(state);
        assertEquals(
                List.of("100 CHUNK 3 bytes", "110 SENT 2 bytes", "120 EVENT {\"event\":\"clock\"}"),
                items.subList(0, 3));
        assertTrue(
                items.get(3).startsWith("120 EVENT {\"result\":\"contraction\",\"type\":\"contraction\""),
                items.get(3));
        assertTrue(items.get(4).startsWith("120 EVENT {\"result\":\"effort\",\"type\":\"effort\""), items.get(4));
        assertEquals("119 EVENT {\"event\":\"mark\",\"text\":\"after\"}", items.get(5));
    }

    @Test
    void shouldBeginOnceAndAgainAfterItsEnd() throws Exception {
        RecordingDesk desk = desk(folder);
        desk.begin(null, 0);
        desk.begin(null, 50);
        assertEquals(0, desk.state().sinceNs(), "one runs already");
        desk.end();
        desk.close();
        String first = desk.state().file();
        clock.advance(5_000_000_000L);
        desk.begin(new ResumePoint(List.of(), List.of(), null), 70);
        assertEquals("on", desk.state().state());
        assertEquals(70, desk.state().sinceNs());
        desk.close();
        RecordingState state = desk.state();
        assertFalse(state.complete());
        assertNotNull(first);
        assertFalse(first.equals(state.file()));
        assertEquals(
                "70 EVENT {\"event\":\"resume\",\"links\":[],\"zeros\":[],\"target\":{}}",
                items(state).get(0));
    }

    @Test
    void shouldSayWhyAFolderCannotBeUsedAndTryAgain() throws Exception {
        Path blocked = Files.createFile(folder.resolve("data"));
        RecordingDesk desk = desk(blocked);
        desk.begin(null, 0);
        RecordingState state = desk.state();
        assertEquals("failed", state.state());
        assertNotNull(state.reason());
        assertTrue(state.reason().contains("cannot be made") && state.reason().contains("--data"), state.reason());
        assertTrue(live.stationJson().contains("\"state\":\"failed\""), "viewers are told");
        Files.delete(blocked);
        desk.begin(null, 0);
        assertEquals("on", desk.state().state());
        desk.close();
    }

    /** The folder can be made, a file in it cannot: its path would be longer than the system allows. */
    @Test
    void shouldCountWhatEveryFailedRecordingLost() throws Exception {
        Path deep = folder.toRealPath();
        while (deep.toString().length() < LONG_PATH - 1) {
            deep = deep.resolve(
                    "d".repeat(Math.min(200, LONG_PATH - 1 - deep.toString().length())));
        }
        RecordingDesk desk = desk(deep);
        for (int recording = 1; recording <= 3; recording++) {
            desk.begin(null, 0);
            Until.so(() -> desk.state().state().equals("failed"));
            for (int i = 0; i < 5; i++) {
                desk.chunk(0, 1, new byte[10], 0, 10);
            }
            desk.event(new StationEvent.ClockTick(2));
            desk.onLinkHealth(HEALTH);
            desk.onLinkHealth(HEALTH);
            assertEquals(5L * recording, counters.get(Counter.RECORDER_CHUNKS_LOST), "recording " + recording);
            assertEquals(recording, counters.get(Counter.RECORDER_EVENTS_LOST));
            assertFalse(desk.state().complete());
        }
        desk.close();
    }
}

package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.record.RecordedItem.Kind;
import io.heldmark.record.RecorderStatus.State;
import io.heldmark.record.Recordings.Packet;
import io.heldmark.time.SystemStationClock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The recorder as the station uses it, with its own thread and the system's clock. */
class RecorderTest {
    @TempDir
    Path folder;

    @Test
    void shouldRecordEverythingThatWasHandedOver() throws Exception {
        Path file = folder.resolve("all.pcapng");
        List<Packet> items = Recordings.randomItems(new Random(21), 20_000);
        List<State> told = new CopyOnWriteArrayList<>();
        RecorderConfig config = RecorderConfig.withDefaults(new SystemStationClock());
        Recorder recorder = Recorder.start(
                file, Recordings.header(Recordings.LEFT, Recordings.RIGHT), status -> told.add(status.state()), config);
        for (Packet item : items) {
            assertTrue(handOver(recorder, item));
        }
        recorder.sync();
        recorder.close();

        RecorderStatus status = recorder.status();
        assertEquals(State.CLOSED, status.state());
        assertTrue(status.complete());
        assertEquals(Files.size(file), status.bytes());
        assertEquals(List.of(State.ON, State.CLOSED), told);
        try (RecordingReader reader = RecordingReader.open(file)) {
            List<Packet> read = Recordings.readAll(reader);
            assertEquals(items, read.subList(0, items.size()));
            assertEquals(items.size() + 1, read.size());
            assertTrue(reader.complete());
        }
    }

    private static boolean handOver(Recorder recorder, Packet item) {
        byte[] bytes = item.bytes();
        return switch (item.kind()) {
            case CHUNK -> recorder.chunk(item.link(), item.timeNs(), bytes, 0, bytes.length);
            case SENT -> recorder.sent(item.link(), item.timeNs(), bytes, 0, bytes.length);
            case EVENT -> recorder.event(item.timeNs(), new String(bytes, StandardCharsets.UTF_8));
        };
    }

    @Test
    void shouldGiveRecordingsOfOneSecondDifferentNames() throws Exception {
        ManualClock clock = new ManualClock();
        List<Path> files = new ArrayList<>();
        for (int i = 0; i < 3; i++) {
            Recorder recorder =
                    Recorder.startIn(folder, Recordings.header(), status -> {}, RecorderConfig.withDefaults(clock));
            files.add(recorder.awaitOpen().file());
            recorder.close();
        }
        String stem = RecordingName.of(clock.wallAnchorNs(), ZoneId.systemDefault(), 1)
                .replace(".pcapng", "");
        assertTrue(stem.matches("heldmark-\\d{8}-\\d{6}"), stem);
        assertEquals(
                List.of(stem + ".pcapng", stem + "-2.pcapng", stem + "-3.pcapng"),
                files.stream().map(file -> file.getFileName().toString()).toList());
    }

    @Test
    void shouldNameFilesAfterTheLocalTime() {
        long wallNs = ManualClock.WALL_ANCHOR_NS;
        assertEquals("heldmark-20260101-000000.pcapng", RecordingName.of(wallNs, ZoneOffset.UTC, 1));
        assertEquals("heldmark-20260101-053000-2.pcapng", RecordingName.of(wallNs, ZoneId.of("Asia/Kolkata"), 2));
    }

    @Test
    void shouldRecordALinkThatIsAddedLater() throws Exception {
        Path file = folder.resolve("later.pcapng");
        RecorderConfig config = RecorderConfig.withDefaults(new ManualClock());
        try (Recorder recorder = Recorder.start(file, Recordings.header(Recordings.LEFT), status -> {}, config)) {
            recorder.chunk(0, 1, new byte[] {1}, 0, 1);
            assertEquals(1, recorder.addLink(Recordings.RIGHT));
            recorder.chunk(1, 2, new byte[] {2}, 0, 1);
        }
        try (RecordingReader reader = RecordingReader.open(file)) {
            List<Packet> read = Recordings.readAll(reader);
            assertEquals(Packet.of(Kind.CHUNK, 1, 2, new byte[] {2}), read.get(1));
            assertEquals(
                    List.of("serial:/dev/ttyUSB0?baud=115200", "tcp:localhost:9000"),
                    reader.links().stream().map(LinkHeader::name).toList());
        }
    }

    @Test
    void shouldOutliveAListenerThatThrows() {
        RecorderConfig config = RecorderConfig.withDefaults(new ManualClock());
        RecorderListener broken = status -> {
            throw new IllegalStateException("a bug of the listener");
        };
        Recorder recorder = Recorder.start(folder.resolve("listener.pcapng"), Recordings.header(), broken, config);
        assertEquals(State.ON, recorder.awaitOpen().state());
        recorder.close();
        assertEquals(State.CLOSED, recorder.status().state());
    }
}

package io.heldmark.pipeline;

import static io.heldmark.testing.EncodedCell.describe;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.config.ConfigException;
import io.heldmark.link.LinkState;
import io.heldmark.model.ReplayState;
import io.heldmark.record.LinkHeader;
import io.heldmark.record.Recorder;
import io.heldmark.record.RecorderConfig;
import io.heldmark.record.RecordingHeader;
import io.heldmark.testing.EncodedCell;
import io.heldmark.testing.Until;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A recording of one second plays through a station, as fast as it can. */
@Timeout(value = 60, unit = TimeUnit.SECONDS)
class ReplaySourceTest {
    private static final long MS = 1_000_000L;

    @TempDir
    Path folder;

    private final Hearing heard = new Hearing();
    private Path file;
    private Station station;

    @BeforeEach
    void record() {
        file = folder.resolve("second.pcapng");
        EncodedCell cell = new EncodedCell();
        RecordingHeader header = new RecordingHeader(
                1_767_225_600_000_000_000L,
                "test",
                List.of(new LinkHeader(
                        "tcp:cell:1", "BYTES", "{\"channels\":[{\"deviceChannel\":0,\"limb\":\"LEFT\"}]}")),
                RecordedSettings.write(Config.resolve(Map.of(), Map.of("trace.lowPassHz", "20")), true));
        RecorderConfig config = RecorderConfig.withDefaults(new SystemStationClock());
        try (Recorder recorder = Recorder.start(file, header, status -> {}, config)) {
            event(recorder, new StationEvent.LinkChanged(0, LinkState.UP, "", 0));
            byte[] describe = cell.message(describe("a", 0, 1));
            recorder.chunk(0, 1, describe, 0, describe.length);
            for (int i = 1; i <= 100; i++) {
                byte[] samples = cell.samples();
                recorder.chunk(0, i * 10L * MS, samples, 0, samples.length);
            }
            event(recorder, new StationEvent.Marked("the end", 1001 * MS));
            recorder.event(1002 * MS, "{\"result\":\"contraction\"}");
            recorder.event(1003 * MS, "{\"event\":\"of a later version\"}");
        }
    }

    private static void event(Recorder recorder, StationEvent event) {
        recorder.event(event.atNs(), Objects.requireNonNull(StationEventJson.write(event)));
    }

    @AfterEach
    void close() {
        if (station != null) {
            station.close();
        }
    }

    private Station open(Path recording) {
        // As few places as there can be, so that the replay has to wait for the acquisition.
        StationOptions options = new StationOptions(
                Config.resolve(Map.of(), Map.of("queue.chunks", "64")),
                folder,
                new SystemStationClock(),
                "test",
                false);
        station = Station.replay(options, recording);
        station.addListener(heard);
        return station;
    }

    private ReplayState state() {
        return Objects.requireNonNull(station.replayState());
    }

    private void awaitEnd() throws InterruptedException {
        Until.so(() -> state().ended());
    }

    @Test
    void shouldPlayEverythingThatWasRecordedAndSayThatItEnded() throws Exception {
        open(file).replaySpeed(0);
        assertFalse(state().ended());
        station.start();
        awaitEnd();
        assertEquals(1000, heard.samples);
        assertEquals(List.of("the end"), heard.marks);
        assertEquals("second.pcapng", state().file());
        assertEquals(1003 * MS, state().durationNs());
        String json = station.live().stationJson();
        assertTrue(json.contains("\"mode\":\"replay\"") && json.contains("\"invented\":true"), json);
        assertTrue(json.contains("low-pass at 20.00 Hz"), "settings that change results are the recording's: " + json);
        assertTrue(json.contains("\"limb\":\"left\""), json);
    }

    @Test
    void shouldTakeNoRequestsAndMakeNoRecording() throws Exception {
        open(file).replaySpeed(0);
        station.start();
        awaitEnd();
        assertEquals(-1, station.mark("mine"));
        assertFalse(station.zero(List.of()));
        assertFalse(station.target(null));
        assertEquals("off", station.startRecording().state());
        assertFalse(Files.exists(folder.resolve("recordings")));
    }

    @Test
    void shouldPlayAgainFromTheStart() throws Exception {
        open(file).replaySpeed(0);
        station.start();
        awaitEnd();
        for (int round = 2; round <= 5; round++) {
            int marks = round;
            station.restartReplay();
            heard.await(h -> h.marks.size() == marks);
            awaitEnd();
            assertEquals(1000L * round, heard.samples);
        }
    }

    @Test
    void shouldStandStillWhilePaused() throws Exception {
        open(file).replaySpeed(0);
        station.pauseReplay(true);
        station.start();
        assertTrue(state().paused());
        assertEquals(0, state().speed());
        assertFalse(state().ended());
        station.pauseReplay(false);
        heard.await(h -> h.marks.size() == 1);
        awaitEnd();
        assertFalse(state().paused());
    }

    @Test
    void shouldRefuseASpeedThatThereIsNot() {
        open(file);
        assertThrows(ConfigException.class, () -> station.replaySpeed(0.05));
        assertThrows(ConfigException.class, () -> station.replaySpeed(Double.NaN));
        station.replaySpeed(2);
        assertEquals(2, state().speed());
    }

    @Test
    void shouldCloseWhileItPlays() throws Exception {
        open(file).replaySpeed(0.1);
        station.start();
        heard.await(h -> h.channels == 1);
        station.close();
        long samples = heard.samples;
        assertTrue(samples < 1000, "samples: " + samples);
        assertFalse(state().ended());
    }

    @Test
    void shouldRefuseWhatIsNoRecordingInOneLine() throws Exception {
        Path text = Files.writeString(folder.resolve("notes.txt"), "no recording\n".repeat(20));
        for (Path wrong : List.of(text, folder.resolve("missing.pcapng"), folder)) {
            ConfigException refusal = assertThrows(ConfigException.class, () -> open(wrong));
            assertNotNull(refusal.getMessage());
            assertFalse(refusal.getMessage().contains("\n"), refusal.getMessage());
            assertTrue(refusal.getMessage().contains(String.valueOf(wrong.getFileName())), refusal.getMessage());
        }
    }

    @Test
    void shouldPlayWhatIsThereOfARecordingThatWasCutAndSaySo() throws Exception {
        byte[] all = Files.readAllBytes(file);
        Path cut = Files.write(folder.resolve("cut.pcapng"), java.util.Arrays.copyOf(all, all.length * 2 / 3));
        open(cut).replaySpeed(0);
        station.start();
        awaitEnd();
        assertTrue(heard.samples > 300 && heard.samples < 1000, "samples: " + heard.samples);
        assertEquals(List.of(), heard.marks);
    }
}

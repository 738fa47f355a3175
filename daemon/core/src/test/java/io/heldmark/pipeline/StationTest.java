package io.heldmark.pipeline;

import static io.heldmark.testing.EncodedCell.describe;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.config.ConfigException;
import io.heldmark.link.Link.Binding;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkState;
import io.heldmark.model.Counter;
import io.heldmark.model.Limb;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Target;
import io.heldmark.record.RecordedItem;
import io.heldmark.record.RecordingReader;
import io.heldmark.testing.EncodedCell;
import io.heldmark.testing.HandClock;
import io.heldmark.testing.MemoryLink;
import io.heldmark.testing.Until;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A station with its real threads; links are in memory and time moves where a test moves it. */
@Timeout(value = 60, unit = TimeUnit.SECONDS)
class StationTest {
    private static final long MS = 1_000_000L;

    @TempDir
    Path folder;

    private final HandClock clock = new HandClock();
    private final MemoryLink link = new MemoryLink(Binding.BYTES);
    private final EncodedCell cell = new EncodedCell();
    private final Hearing heard = new Hearing();
    private Station station;

    @AfterEach
    void closeStation() {
        if (station != null) {
            station.close();
        }
    }

    private Station make(String... settings) {
        Map<String, String> chosen = Map.of();
        if (settings.length == 2) {
            chosen = Map.of(settings[0], settings[1]);
        } else if (settings.length == 4) {
            chosen = Map.of(settings[0], settings[1], settings[2], settings[3]);
        }
        StationOptions options = new StationOptions(Config.resolve(Map.of(), chosen), folder, clock, "test", true);
        List<LinkSetup> setups =
                LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse("tcp:cell:1?binding=bytes"), Limb.LEFT)));
        station = Station.live(options, setups, (address, time) -> link);
        station.addListener(heard);
        return station;
    }

    private void up() throws InterruptedException {
        link.become(LinkState.UP, "", clock.nowNs());
        link.receive(cell.message(describe("a", 0, 1)), clock.nowNs());
        heard.await(h -> h.channels == 1);
    }

    private void stream(int messages) throws InterruptedException {
        for (int i = 0; i < messages; i++) {
            clock.advance(10 * MS);
            link.receive(cell.samples(new int[10]), clock.nowNs());
        }
        long wanted = heard.samples;
        drain();
        assertTrue(heard.samples >= wanted);
    }

    /** Waits until everything that was in the queue has been processed. */
    private void drain() throws InterruptedException {
        String text = "drain " + clock.nowNs();
        assertTrue(station.mark(text) >= 0);
        heard.await(h -> h.marks.contains(text));
    }

    private static List<String> events(Path file) throws Exception {
        List<String> events = new ArrayList<>();
        RecordedItem item = new RecordedItem();
        try (RecordingReader reader = RecordingReader.open(file)) {
            while (reader.next(item)) {
                if (item.kind() == RecordedItem.Kind.EVENT) {
                    events.add(item.json());
                }
            }
            assertTrue(reader.complete(), "the file was ended properly");
        }
        return events;
    }

    private Path file(RecordingState state) {
        return folder.resolve("recordings").resolve(Objects.requireNonNull(state.file()));
    }

    @Test
    void shouldRunASessionFromStartToStop() throws Exception {
        make().start();
        up();
        stream(50);
        assertTrue(station.zero(List.of()));
        for (int i = 0; i < 4 && !heard.zeros.contains("taken"); i++) {
            stream(100);
        }
        assertTrue(heard.zeros.contains("taking") && heard.zeros.contains("taken"), heard.zeros::toString);
        long markedNs = station.mark("left cuff moved");
        assertEquals(clock.nowNs(), markedNs);
        assertTrue(station.target(new Target(200, 10)));
        heard.await(h -> h.marks.contains("left cuff moved"));
        assertEquals(1, station.channels().size());
        assertEquals("streaming", station.linkHealth().get(0).state());
        assertNull(station.replayState());

        RecordingState stopped = station.stopRecording();
        assertEquals("off", stopped.state());
        assertTrue(stopped.complete(), "recorded from the first byte");
        List<String> events = events(file(stopped));
        assertTrue(events.contains("{\"event\":\"zero\",\"channels\":[]}"));
        assertTrue(events.contains("{\"event\":\"mark\",\"text\":\"left cuff moved\"}"));
        assertTrue(events.stream().anyMatch(e -> e.startsWith("{\"event\":\"target\",\"forceN\":200")));

        RecordingState again = station.startRecording();
        assertEquals("on", again.state());
        stream(10);
        RecordingState second = station.stopRecording();
        assertFalse(second.complete());
        assertEquals("begun within the session: results before its start are not in it", second.reason());
        String first = events(file(second)).get(0);
        assertTrue(first.startsWith("{\"event\":\"resume\"") && first.contains("\"zeroN\""), first);
        station.close();
        assertTrue(link.closed);
    }

    @Test
    void shouldGoOnWhereAListenerThrows() throws Exception {
        make();
        station.addListener(new StationListener() {
            @Override
            public void onSamples(SampleBatch trace) {
                throw new IllegalStateException("this listener is broken");
            }

            @Override
            public void onMark(String text, long atNs) {
                throw new AssertionError("this listener is broken beyond repair");
            }
        });
        Hearing after = new Hearing();
        station.addListener(after);
        station.start();
        up();
        stream(30);
        after.await(h -> h.samples == 300 && h.marks.size() == 1);
        assertEquals(300, heard.samples);
        assertEquals(31, station.counters().get(Counter.LISTENER_FAULTS));
        assertEquals(0, station.counters().get(Counter.PROCESSING_FAULTS));
    }

    @Test
    void shouldCloseWhileItStreams() throws Exception {
        make().start();
        up();
        AtomicBoolean goesOn = new AtomicBoolean(true);
        AtomicLong fed = new AtomicLong();
        Thread reader = new Thread(() -> {
            while (goesOn.get()) {
                clock.advance(10 * MS);
                link.receive(cell.samples(), clock.nowNs());
                fed.incrementAndGet();
                LockSupport.parkNanos(20_000);
            }
        });
        reader.start();
        heard.await(h -> h.samples > 1000);
        station.close();
        long samplesAtClose = heard.samples;
        long fedAtClose = fed.get();
        Until.so(() -> fed.get() > fedAtClose + 100); // the reader does not notice
        goesOn.set(false);
        reader.join();
        assertEquals(samplesAtClose, heard.samples, "nothing is processed after close");
        assertTrue(link.closed);
        assertEquals("off", station.recording().state());
        assertTrue(events(file(station.recording())).size() > 1);
        assertEquals(-1, station.mark("too late"));
        assertFalse(station.zero(List.of()));
        station.close(); // once more does nothing
    }

    @Test
    void shouldCloseWhileALinkStillConnects() {
        make().start();
        link.become(LinkState.CONNECTING, "nobody answers", 0);
        station.close();
        assertTrue(link.closed);
        assertEquals("off", station.recording().state());
    }

    @Test
    void shouldCloseWithoutHavingBeenStarted() {
        make().close();
        assertTrue(link.closed);
        assertEquals(RecordingState.OFF, station.recording());
    }

    @Test
    void shouldStartOnce() {
        make().start();
        assertThrows(IllegalStateException.class, station::start);
    }

    /** Acquisition stands still: readers drop and count, requests are refused and counted, and then all goes on. */
    @Test
    void shouldDropCountAndMarkWhatDoesNotFit() throws Exception {
        make("queue.chunks", "64", "record.atStart", "false");
        CountDownLatch standing = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        station.addListener(new StationListener() {
            @Override
            public void onMark(String text, long atNs) {
                if (text.equals("stand still")) {
                    standing.countDown();
                    awaitQuietly(goOn);
                }
            }
        });
        station.start();
        up();
        stream(5);
        station.mark("stand still");
        standing.await();
        for (int i = 0; i < 200; i++) {
            link.receive(cell.samples(), clock.nowNs());
        }
        assertEquals(-1, station.mark("refused"));
        assertFalse(station.target(null));
        long dropped = station.counters().get(Counter.INPUT_CHUNKS_DROPPED);
        assertTrue(dropped >= 200 - 63 && dropped < 200, "dropped " + dropped);
        assertTrue(station.counters().get(Counter.INPUT_BYTES_DROPPED) >= 40 * dropped);
        assertEquals(2, station.counters().get(Counter.INPUT_REQUESTS_REFUSED));
        goOn.countDown();
        heard.await(h -> h.samples == 50 + 10 * (200 - dropped));
        clock.advance(10 * MS);
        link.receive(cell.samples(), clock.nowNs());
        heard.await(h -> h.gaps == 1);
        assertEquals(1, heard.notices.size());
        assertTrue(heard.notices.get(0).contains("the station lost "), heard.notices::toString);
        assertTrue(heard.timeIncreases);
        drain();
        LinkHealth health = heard.health.get(heard.health.size() - 1);
        assertTrue(health.lostSamples() <= 10 * dropped, health::toString);
    }

    private static void awaitQuietly(CountDownLatch latch) {
        try {
            latch.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Test
    void shouldTellWhyALinkIsDownAndCountItsReturn() throws Exception {
        make().start();
        up();
        stream(20);
        link.become(LinkState.DOWN, "the device was unplugged", clock.nowNs());
        heard.await(h -> h.health.stream().anyMatch(x -> x.state().equals("lost")));
        assertEquals(
                "the device was unplugged",
                heard.health.get(heard.health.size() - 1).reason());
        clock.advance(3000 * MS);
        cell.tick += 3_000_000;
        link.become(LinkState.UP, "", clock.nowNs());
        stream(20);
        assertEquals(1, station.linkHealth().get(0).reconnects());
        assertEquals(3000, station.linkHealth().get(0).lostSamples());
        assertTrue(heard.timeIncreases);
    }

    @Test
    void shouldSplitReadsThatAreLongerThanAChunk() throws Exception {
        make().start();
        up();
        byte[] message = cell.samples();
        byte[] many = new byte[message.length * 200];
        for (int i = 0; i < 200; i++) {
            System.arraycopy(i == 0 ? message : cell.samples(), 0, many, i * message.length, message.length);
        }
        clock.advance(2000 * MS);
        link.receive(many, clock.nowNs());
        drain();
        assertEquals(2000, heard.samples);
        assertEquals(0, heard.gaps);
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 501, 100_000})
    void shouldRefuseAMarkThatIsEmptyOrTooLongAndSayTheLimit(int length) {
        make().start();
        IllegalArgumentException refusal =
                assertThrows(IllegalArgumentException.class, () -> station.mark("x".repeat(length)));
        assertEquals("a mark has 1 to 500 characters; this one has " + length, refusal.getMessage());
    }

    @Test
    void shouldKeepEveryCharacterOfAMark() throws Exception {
        make().start();
        String text = "Größe ✓ ".repeat(62) + "1234";
        assertEquals(500, text.length());
        assertTrue(station.mark(text) >= 0);
        heard.await(h -> h.marks.contains(text));
    }

    @Test
    void shouldRefuseAZeroOfAChannelThatDoesNotExist() throws Exception {
        make().start();
        up();
        assertThrows(IllegalArgumentException.class, () -> station.zero(List.of(0, 1)));
        assertThrows(IllegalArgumentException.class, () -> station.zero(List.of(-1)));
        assertTrue(station.zero(List.of(0)));
    }

    @Test
    void shouldRefuseALinkThatNobodyKnows() {
        StationOptions options = new StationOptions(Config.defaults(), folder, clock, "test", true);
        List<LinkSetup> setups =
                LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse("pigeon:coop"), Limb.LEFT)));
        ConfigException refusal =
                assertThrows(ConfigException.class, () -> Station.live(options, setups, LinkOpener.ofProviders()));
        assertNotNull(refusal.getMessage());
        assertTrue(refusal.getMessage().contains("pigeon:coop"), refusal.getMessage());
    }
}

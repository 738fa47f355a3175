package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Level;
import io.heldmark.model.ReplayState;
import io.heldmark.model.Target;
import io.heldmark.model.ZeroState;
import io.heldmark.testing.HandClock;
import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(value = 60, unit = TimeUnit.SECONDS)
class LiveFanoutTest {
    private static final long S = 1_000_000_000L;

    private final HandClock clock = new HandClock();
    private final Counters counters = new Counters();
    private final LiveFanout live = fanout(false);

    private LiveFanout fanout(boolean replay) {
        return new LiveFanout(
                new StationFacts("0.1.0", "session", replay, "2026-01-01T00:00:00Z", false),
                new ViewerConfig(8 * S, 64, S / 2),
                clock,
                counters);
    }

    private static List<String> events(Viewer viewer) {
        List<String> all = new ArrayList<>();
        for (String json = viewer.nextEvent(); json != null; json = viewer.nextEvent()) {
            all.add(json);
        }
        return all;
    }

    @Test
    void shouldTellEveryViewerEverythingAndNewOnesTheStateAsItIs() {
        Viewer early = live.join();
        Channels.tell(live, 1000);
        live.onZero(new ZeroState(0, "taken", 2 * S, -3.5, 0.25, null));
        live.onTarget(new Target(200, 10));
        live.onMark("a mark is no state", S);
        List<String> told = events(early);
        assertEquals(5, told.size());
        Viewer late = live.join();
        String hello = Objects.requireNonNull(late.nextEvent());
        assertTrue(hello.contains(told.get(2)) && hello.contains(told.get(3)), hello);
        assertTrue(hello.contains("\"channels\":[{\"channel\":0,"), hello);
        assertFalse(hello.contains("a mark"), hello);
        assertNull(late.nextEvent());
        assertEquals(2, counters.get(Counter.VIEWERS_JOINED));
    }

    @Test
    void shouldSayTheSameOverHttpWithoutTheType() {
        String station = live.stationJson();
        String hello = Objects.requireNonNull(live.join().nextEvent());
        assertEquals(hello, "{\"type\":\"hello\"," + station.substring(1));
        assertTrue(
                station.startsWith("{\"schema\":\"heldmark.live/1\",\"version\":\"0.1.0\",\"sessionId\":\"session\","
                        + "\"run\":1,\"mode\":\"live\",\"startedAt\":\"2026-01-01T00:00:00Z\",\"nowS\":0.0,"),
                station);
        assertFalse(station.contains("invented"));
    }

    @Test
    void shouldTakeTheTimeOfAReplayFromItsInputs() {
        LiveFanout replay = fanout(true);
        clock.advance(100 * S);
        replay.onInput(7 * S, 100 * S);
        replay.onInput(6 * S, 100 * S); // another link, a little older
        assertTrue(replay.stationJson()
                .contains("\"mode\":\"replay\",\"startedAt\":\"2026-01-01T00:00:00Z\",\"nowS\":7.0"));
        assertTrue(live.stationJson().contains("\"nowS\":100.0"));
    }

    @Test
    void shouldBeginAnewForTheSameViewersWhereAReplayDoes() {
        Viewer viewer = live.join();
        Channels.tell(live, 1000);
        assertTrue(events(viewer).get(0).contains("\"run\":1,"));
        viewer.nextMessage(ByteBuffer.allocate(4096));
        live.onInput(50 * S, 50 * S);
        live.onSamples(new Batches(0, 1000).next(10));
        live.onSessionRestart(new ReplayState("one.pcapng", 0, 60 * S, 0, false, false));
        List<String> told = events(viewer);
        String hello = told.get(told.size() - 1);
        assertTrue(hello.startsWith("{\"type\":\"hello\"") && hello.contains("\"channels\":[]"), hello);
        assertTrue(hello.contains("\"run\":2,"), hello);
        assertTrue(
                hello.contains("\"positionS\":0.0,\"durationS\":60.0"),
                "where it stands, before anything is played: " + hello);
        assertEquals(0, viewer.nextMessage(ByteBuffer.allocate(4096)), "the trace of the run before is gone");
    }

    @Test
    void shouldTellLatenciesOnceASecondAndOnlyOfThatSecond() {
        Viewer viewer = live.join();
        viewer.nextEvent();
        live.onFlush();
        assertEquals(List.of(), events(viewer));
        live.onInput(0, 0);
        clock.advance(S / 2);
        live.onChunkDone();
        live.onFlush();
        clock.advance(S / 2);
        live.onFlush();
        live.onFlush();
        List<String> told = events(viewer);
        assertEquals(1, told.size());
        assertTrue(
                told.get(0).startsWith("{\"type\":\"latency\",\"arrivalToDecodedMs\":{\"count\":1,\"p50\":5"),
                told.get(0));
        assertFalse(told.get(0).contains("arrivalToSentMs"), "absent while empty");
        clock.advance(S);
        live.onFlush();
        assertEquals(List.of("{\"type\":\"latency\"}"), events(viewer));
        assertEquals(1, live.arrivalToDecoded().total().count());
    }

    @Test
    void shouldMakeNoLevelsForNobody() {
        live.onLevels(List.of(new Level(0, "lost", null)));
        Viewer viewer = live.join();
        viewer.nextEvent();
        live.onLevels(List.of(new Level(0, "lost", null)));
        assertEquals(List.of("{\"type\":\"level\",\"channels\":[{\"channel\":0,\"state\":\"lost\"}]}"), events(viewer));
    }

    /** A viewer whose sender is stuck in the middle of a message holds its own lock, and nobody else waits for it. */
    @Test
    void shouldNeverWaitForAViewer() throws Exception {
        Channels.tell(live, 1000);
        Viewer stuck = live.join();
        Viewer healthy = live.join();
        ByteBuffer buffer = ByteBuffer.allocate(64 * 1024);
        for (Viewer viewer : List.of(stuck, healthy)) {
            viewer.nextEvent();
            viewer.nextMessage(buffer); // places it in the trace
        }
        CountDownLatch holds = new CountDownLatch(1);
        CountDownLatch release = new CountDownLatch(1);
        Thread sender = new Thread(() -> {
            synchronized (stuck) {
                holds.countDown();
                try {
                    release.await();
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                }
            }
        });
        sender.start();
        holds.await();
        Batches trace = new Batches(0, 1000);
        for (int i = 0; i < 2000; i++) { // 20 s of trace and far more events than may wait
            live.onInput(i, i);
            live.onSamples(trace.next(10));
            live.onChunkDone();
            live.onMark("mark", i);
            live.onFlush();
            assertTrue(healthy.nextMessage(buffer) > 0);
            events(healthy);
        }
        live.onTarget(null);
        assertEquals("this viewer does not take its events", stuck.closeReason());
        assertNull(healthy.closeReason());
        release.countDown();
        sender.join();
        stuck.nextEvent();
        stuck.nextMessage(buffer);
        assertTrue(stuck.reduced());
    }

    /** What a viewer that joins is told is never older than its first event, whoever changes the state meanwhile. */
    @Test
    void shouldTellNewViewersNoStateThatIsOlderThanTheirEvents() throws Exception {
        AtomicBoolean goesOn = new AtomicBoolean(true);
        Thread producer = new Thread(() -> {
            for (int i = 1; goesOn.get(); i = i % 1_000_000 + 1) {
                live.onTarget(new Target(i, 10));
            }
        });
        producer.start();
        for (int i = 0; i < 300; i++) {
            Viewer viewer = live.join();
            int told = target(Objects.requireNonNull(viewer.nextEvent()));
            String first = viewer.nextEvent();
            while (first == null) {
                first = viewer.nextEvent();
            }
            assertTrue(target(first) <= told + 1, "hello says " + told + ", the next event " + target(first));
            viewer.leave();
        }
        goesOn.set(false);
        producer.join();
    }

    private static int target(String json) {
        int at = json.indexOf("\"forceN\":");
        return at < 0 ? 0 : (int) Double.parseDouble(json.substring(at + 9, json.indexOf(',', at)));
    }
}

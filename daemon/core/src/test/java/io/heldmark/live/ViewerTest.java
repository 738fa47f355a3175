package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.testing.HandClock;
import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Time moves by hand; a flush comes every 16 ms, as about 60 times a second. */
class ViewerTest {
    private static final long MS = 1_000_000L;

    private final HandClock clock = new HandClock();
    private final Counters counters = new Counters();
    private final LiveFanout live = new LiveFanout(
            new StationFacts("test", "s", false, "", true), new ViewerConfig(8_000 * MS, 8, 500 * MS), clock, counters);
    private final ByteBuffer buffer = ByteBuffer.allocate(256 * 1024);
    private final Batches trace = new Batches(0, 1000);

    private Viewer join() {
        Viewer viewer = live.join();
        assertNotNull(viewer.nextEvent(), "hello");
        return viewer;
    }

    private void append(int samples) {
        for (int left = samples; left > 0; left -= 20) {
            live.onSamples(trace.next(Math.min(20, left)));
        }
    }

    private List<Batches.Block> message(Viewer viewer) {
        return viewer.nextMessage(buffer) == 0 ? List.of() : Batches.blocks(buffer);
    }

    private static List<String> events(Viewer viewer) {
        List<String> all = new ArrayList<>();
        for (String json = viewer.nextEvent(); json != null; json = viewer.nextEvent()) {
            all.add(json);
        }
        return all;
    }

    /** Lets a viewer keep up for a while; returns the time after which it got every sample again, or -1. */
    private long keepUp(Viewer viewer, Batches from, double rateHz, long forMs) {
        double owed = 0;
        for (long ms = 0; ms < forMs; ms += 16) {
            clock.advance(16 * MS);
            for (owed += 0.016 * rateHz; owed >= 1; owed--) {
                live.onSamples(from.next(1));
            }
            message(viewer);
            if (!viewer.reduced()) {
                return ms;
            }
        }
        return -1;
    }

    @Test
    void shouldGetHelloBeforeAnythingElse() {
        Channels.tell(live, 1000);
        Viewer viewer = live.join();
        live.onMark("early", 0);
        append(20);
        assertEquals(0, viewer.nextMessage(buffer), "no trace before hello");
        String hello = viewer.nextEvent();
        assertTrue(hello != null && hello.startsWith("{\"type\":\"hello\""), hello);
        assertEquals(List.of("{\"type\":\"mark\",\"atS\":0.0,\"text\":\"early\"}"), events(viewer));
    }

    @Test
    void shouldNumberItsMessagesFromOne() {
        Channels.tell(live, 1000);
        Viewer viewer = join();
        message(viewer); // places it in the trace
        assertEquals(0, viewer.nextMessage(buffer), "nothing to send");
        for (int i = 1; i <= 3; i++) {
            append(20);
            assertEquals(i, viewer.nextMessage(buffer));
            assertEquals(20, Batches.blocks(buffer).get(0).values().size());
        }
        assertEquals(0, viewer.nextMessage(buffer));
    }

    @Test
    void shouldFallToPairsWhereItIsSlowAndSayWhyAndComeBack() {
        Channels.tell(live, 1000);
        Viewer viewer = join();
        message(viewer);
        append(501);
        List<Batches.Block> blocks = message(viewer);
        assertEquals(2, blocks.get(0).kind());
        assertEquals(2 * 25, blocks.get(0).values().size(), "50 pairs a second");
        assertEquals(
                List.of(
                        "{\"type\":\"viewer\",\"delivery\":\"reduced\",\"reason\":\"this viewer or its network is slow\"}"),
                events(viewer));
        assertEquals(1, counters.get(Counter.VIEWERS_REDUCED));
        long backMs = keepUp(viewer, trace, 1000, 4000);
        assertTrue(backMs >= 3000 && backMs <= 3100, "after " + backMs + " ms");
        assertEquals(
                List.of("{\"type\":\"viewer\",\"delivery\":\"full\",\"reason\":\"this viewer keeps up again\"}"),
                events(viewer));
        append(20);
        assertEquals(1, message(viewer).get(0).kind());
        assertEquals(1, counters.get(Counter.VIEWERS_REDUCED));
        assertEquals(0, counters.get(Counter.VIEWER_SAMPLES_SKIPPED));
    }

    /** The pairs of a slow channel fill slowly: that is not the viewer's fault. */
    @Test
    void shouldComeBackFromPairsAtEverySampleRate() {
        for (double rateHz : new double[] {10, 20, 25, 80, 4000}) {
            Channels.tell(live, rateHz);
            Batches from = new Batches(0, rateHz);
            Viewer viewer = join();
            message(viewer);
            for (int i = 0; i < 0.6 * rateHz + 1; i++) {
                live.onSamples(from.next(1));
            }
            message(viewer);
            assertTrue(viewer.reduced(), "at " + rateHz + " Hz");
            assertTrue(keepUp(viewer, from, rateHz, 5000) >= 0, "at " + rateHz + " Hz");
            viewer.leave();
        }
    }

    @Test
    void shouldSkipAndCountWhereItIsTooFarBehind() {
        Channels.tell(live, 1000);
        Viewer viewer = join();
        message(viewer);
        append(10_000); // into a ring of 8192
        List<Batches.Block> blocks = message(viewer);
        assertEquals(10_000 - 6144, counters.get(Counter.VIEWER_SAMPLES_SKIPPED));
        assertEquals((float) (10_000 - 6144), blocks.get(0).values().get(0));
    }

    @Test
    void shouldIgnoreAndCountAcknowledgementsOutOfOrder() {
        Channels.tell(live, 1000);
        Viewer viewer = join();
        message(viewer);
        for (int i = 0; i < 3; i++) {
            append(20);
            viewer.nextMessage(buffer);
        }
        viewer.painted(2);
        assertEquals(0, counters.get(Counter.VIEWER_MESSAGES_IGNORED));
        for (long wrong : new long[] {2, 1, 0, -5, 4, Long.MAX_VALUE, Long.MIN_VALUE}) {
            viewer.painted(wrong);
        }
        assertEquals(7, counters.get(Counter.VIEWER_MESSAGES_IGNORED));
        viewer.painted(3);
        assertEquals(7, counters.get(Counter.VIEWER_MESSAGES_IGNORED));
        assertEquals(3, live.arrivalToPainted().endInterval().count(), "each message once");
    }

    @Test
    void shouldMeasureFromTheArrivalOfTheOldestSample() {
        Channels.tell(live, 1000);
        Viewer viewer = join();
        message(viewer);
        live.onInput(0, 0);
        append(1);
        clock.advance(10 * MS);
        live.onInput(10 * MS, 10 * MS);
        append(1);
        clock.advance(5 * MS);
        long sequence = viewer.nextMessage(buffer);
        clock.advance(2 * MS);
        viewer.sent(sequence);
        viewer.sent(sequence + 1); // never made
        clock.advance(3 * MS);
        viewer.painted(sequence);
        LatencySummary sent = live.arrivalToSent().endInterval();
        assertEquals(1, sent.count());
        assertEquals(17e6, (double) sent.maxNs(), 0.02 * 17e6); // two digits
        assertEquals(20e6, (double) live.arrivalToPainted().endInterval().maxNs(), 0.02 * 20e6);
    }

    @Test
    void shouldFallToPairsWhereItTakesMessagesAndDoesNotDrawThem() {
        Channels.tell(live, 1000);
        Viewer silent = join();
        Viewer drawing = join();
        message(silent);
        message(drawing);
        append(20);
        silent.nextMessage(buffer);
        drawing.painted(drawing.nextMessage(buffer));
        long reducedMs = -1;
        for (long ms = 0; ms < 3000 && reducedMs < 0; ms += 16) {
            clock.advance(16 * MS);
            append(16);
            message(silent);
            message(drawing);
            reducedMs = drawing.reduced() ? ms : -1;
        }
        assertTrue(reducedMs >= 2000 && reducedMs <= 2050, "after " + reducedMs + " ms");
        assertFalse(silent.reduced(), "a viewer that never acknowledges is judged by what it takes");
    }

    @Test
    void shouldBeClosedOnceWhereItDoesNotTakeItsEvents() {
        Viewer viewer = join();
        for (int i = 0; i < 8; i++) {
            live.onMark("mark " + i, 0);
        }
        assertNull(viewer.closeReason());
        live.onMark("mark 8", 0);
        live.onMark("mark 9", 0);
        assertEquals("this viewer does not take its events", viewer.closeReason());
        assertEquals(1, counters.get(Counter.VIEWERS_CLOSED));
    }

    @Test
    void shouldLoseOldReportsOfAStateAndBeTold() {
        Viewer viewer = join();
        for (int i = 0; i < 20; i++) {
            live.onNotice("info", "n" + (i % 2));
            viewer.nextEvent();
        }
        for (int i = 0; i < 20; i++) {
            viewer.offer("level", "{\"n\":" + i + "}");
        }
        assertNull(viewer.closeReason());
        assertEquals(12, counters.get(Counter.VIEWER_EVENTS_COALESCED));
        List<String> events = events(viewer);
        assertEquals("{\"n\":12}", events.get(0));
        assertEquals("{\"n\":19}", events.get(7));
    }

    @Test
    void shouldStarveNoChannelWhereMessagesAreSmall() {
        Channels.tell(live, 1000, 1000);
        Viewer viewer = join();
        message(viewer);
        Batches other = new Batches(1, 1000);
        ByteBuffer small = ByteBuffer.allocate(4096);
        int[] got = new int[2];
        for (int i = 0; i < 4; i++) {
            live.onSamples(trace.next(2000)); // more than a message holds
            live.onSamples(other.next(2000));
            viewer.nextMessage(small);
            Batches.blocks(small).forEach(b -> got[b.channel()]++);
        }
        assertTrue(got[0] >= 2 && got[1] >= 2, got[0] + " and " + got[1]);
    }

    @Test
    void shouldFollowAChangedListOfChannelsWithoutLosingTheOthers() {
        Channels.tell(live, 1000, 500);
        Viewer viewer = join();
        message(viewer);
        append(20);
        Channels.tell(live, 1000, 250);
        append(20);
        live.onSamples(new Batches(1, 250).next(5));
        List<Batches.Block> blocks = message(viewer);
        assertEquals(
                40,
                blocks.stream()
                        .filter(b -> b.channel() == 0)
                        .findFirst()
                        .orElseThrow()
                        .values()
                        .size());
        live.onSamples(new Batches(1, 250).next(5));
        assertEquals(1, message(viewer).get(0).channel());
    }

    @Test
    void shouldHearNothingOnceItHasLeft() {
        Viewer viewer = join();
        viewer.leave();
        viewer.leave();
        live.onMark("late", 0);
        assertNull(viewer.nextEvent());
        assertEquals(List.of(), live.viewers());
        assertEquals(1, counters.get(Counter.VIEWERS_JOINED));
    }
}

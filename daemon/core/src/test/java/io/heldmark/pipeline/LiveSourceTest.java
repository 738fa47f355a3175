package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.link.Link.Binding;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkState;
import io.heldmark.live.LiveFanout;
import io.heldmark.live.StationFacts;
import io.heldmark.live.ViewerConfig;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Limb;
import io.heldmark.protocol.Describe;
import io.heldmark.testing.EncodedCell;
import io.heldmark.testing.HandClock;
import io.heldmark.testing.MemoryLink;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The timer's turns are made by hand; its thread does not run. */
class LiveSourceTest {
    private static final long MS = 1_000_000L;

    @TempDir
    Path folder;

    private final HandClock clock = new HandClock();
    private final Counters counters = new Counters();
    private final MemoryLink link = new MemoryLink(Binding.BYTES);
    private final List<Long> clocksNs = new ArrayList<>();
    private InputQueue queue;
    private Acquisition acquisition;
    private LiveSource source;

    private void make(int capacity) {
        queue = new InputQueue(capacity, 1);
        StationOptions options = new StationOptions(Config.defaults(), folder, clock, "test", true);
        List<LinkSetup> setups =
                LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse("tcp:cell:1?binding=bytes"), Limb.LEFT)));
        LiveFanout live = new LiveFanout(
                new StationFacts("test", "s", false, "", true), new ViewerConfig(1, 64, 1), clock, counters);
        RecordingDesk desk = new RecordingDesk(options, List.of(), live, counters);
        acquisition = new Acquisition(options, setups, new StationListener() {}, counters, live, desk, queue);
        source = new LiveSource(List.of(link), setups, options, queue, acquisition, counters);
    }

    private void turns(int howMany) {
        for (int i = 0; i < howMany; i++) {
            source.turn();
            clock.advance(5 * MS);
        }
    }

    private void takeClocks() {
        queue.close();
        InputQueue.Consumer consumer = new InputQueue.Consumer() {
            @Override
            public void onChunk(int n, long a, long r, byte[] bytes, int offset, int length, long lost) {}

            @Override
            public void onEvent(StationEvent event, long receivedNs) {
                if (event instanceof StationEvent.ClockTick) {
                    clocksNs.add(event.atNs());
                }
            }

            @Override
            public void onTask(Runnable task) {}
        };
        while (queue.take(consumer)) {
            assertTrue(clocksNs.size() < 1000);
        }
    }

    @Test
    void shouldPutTenClocksASecondIntoTheQueue() {
        make(1000);
        turns(200);
        takeClocks();
        assertEquals(
                List.of(0L, 100L, 200L, 300L, 400L, 500L, 600L, 700L, 800L, 900L),
                clocksNs.stream().map(n -> n / MS).toList());
    }

    @Test
    void shouldPutOneClockWhereTheTimerWasHeldUp() {
        make(1000);
        turns(1);
        clock.advance(2345 * MS);
        turns(2);
        takeClocks();
        assertEquals(List.of(0L, 2350L), clocksNs.stream().map(n -> n / MS).toList());
    }

    /** The next clock makes up for those that did not fit: none is put in later. */
    @Test
    void shouldCountClocksThatDoNotFit() {
        make(2);
        turns(200);
        assertEquals(8, counters.get(Counter.INPUT_CLOCKS_DROPPED));
        takeClocks();
        assertEquals(List.of(0L, 100L), clocksNs.stream().map(n -> n / MS).toList());
    }

    /** What the acquisition finds out of a device is what the timer acts on. */
    @Test
    void shouldAskThenStartThenLeaveADeviceAlone() {
        make(1000);
        EncodedCell cell = new EncodedCell();
        Describe askable = EncodedCell.describe("a", Describe.CAN_COMMAND, 1);
        source.startLinks();
        link.become(LinkState.UP, "", clock.nowNs());
        takeInputs();
        link.sent.clear();
        turns(1);
        assertEquals(1, link.sent.size(), "describe");
        byte[] describe = cell.message(askable);
        link.receive(describe, clock.nowNs());
        takeInputs();
        turns(1);
        assertEquals(2, link.sent.size(), "start");
        link.receive(cell.samples(), clock.nowNs());
        takeInputs();
        turns(1000);
        assertEquals(2, link.sent.size());
        takeInputs(); // 5 s of clocks without samples: the stream is lost
        turns(1);
        assertEquals(3, link.sent.size(), "start again");
    }

    /** While a device streams nothing is due but clocks and pings: the timer sleeps until then, as long as that may be. */
    @Test
    void shouldSleepUntilSomethingIsDueWhereADeviceStreams() {
        make(1000);
        EncodedCell cell = new EncodedCell();
        source.startLinks();
        assertEquals(5 * MS, source.turn(), "a link that may come up at any time");
        link.become(LinkState.UP, "", clock.nowNs());
        takeInputs();
        assertEquals(5 * MS, source.turn(), "a device that may say at any time what it is");
        link.receive(cell.message(EncodedCell.describe("a", Describe.CAN_COMMAND, 1)), clock.nowNs());
        link.receive(cell.samples(), clock.nowNs());
        takeInputs();
        long sentBefore = link.sent.size();
        int turns = 0;
        for (long endNs = clock.nowNs() + 1000 * MS; clock.nowNs() < endNs; turns++) {
            clock.advance(source.turn());
        }
        assertEquals(10, turns, 1, "one for each clock");
        assertEquals(sentBefore, link.sent.size());
    }

    private void takeInputs() {
        CountingTask end = new CountingTask();
        assertTrue(queue.offer(end));
        while (!end.ran) {
            assertTrue(queue.take(acquisition));
        }
    }

    private static final class CountingTask implements Runnable {
        private boolean ran;

        @Override
        public void run() {
            ran = true;
        }
    }
}

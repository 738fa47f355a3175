package io.heldmark.pipeline;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.time.StationClock;
import java.util.ArrayList;
import java.util.List;

/**
 * Live links: their readers put bytes into the queue, a timer puts clock inputs into it and talks to the devices.
 *
 * <p>A reader never waits: where the queue is full its bytes are dropped, counted, and the gap is marked.
 */
final class LiveSource implements LinkSource {
    private static final long CLOCK_PERIOD_NS = 100_000_000L;

    private final List<Link> links;
    private final StationClock clock;
    private final InputQueue queue;
    private final Counters counters;
    private final List<LinkSupervisor> supervisors = new ArrayList<>();
    private final RepeatedTask timer;
    private long nextClockNs;

    LiveSource(
            List<Link> links,
            List<LinkSetup> setups,
            StationOptions options,
            InputQueue queue,
            Acquisition acquisition,
            Counters counters) {
        this.links = links;
        this.clock = options.clock();
        this.queue = queue;
        this.counters = counters;
        for (int i = 0; i < setups.size(); i++) {
            supervisors.add(new LinkSupervisor(
                    i,
                    links.get(i),
                    queue,
                    counters,
                    options.settings(),
                    options.clock().wallAnchorNs() + i));
        }
        timer = new RepeatedTask("heldmark-timer", this::turn, () -> counters.increment(Counter.PROCESSING_FAULTS));
        acquisition.setAfterInput(this::afterInput);
    }

    private void afterInput(StationCore core, int link) {
        int first = link >= 0 ? link : 0;
        int last = link >= 0 ? link : supervisors.size() - 1;
        for (int i = first; i <= last; i++) {
            core.tellDevice(i, supervisors.get(i));
        }
    }

    @Override
    public void start() {
        startLinks();
        timer.start();
    }

    /** Starts the links and not the timer. */
    void startLinks() {
        for (int i = 0; i < links.size(); i++) {
            links.get(i).start(new Reader(i));
        }
    }

    /**
     * Puts a clock input where one is due and lets every supervisor send what is due; on the timer.
     *
     * @return nanoseconds until something is due again.
     */
    long turn() {
        long nowNs = clock.nowNs();
        if (nowNs >= nextClockNs) {
            nextClockNs = (nowNs / CLOCK_PERIOD_NS + 1) * CLOCK_PERIOD_NS;
            if (!queue.offer(new StationEvent.ClockTick(nowNs), nowNs)) {
                counters.increment(Counter.INPUT_CLOCKS_DROPPED);
            }
        }
        long nextNs = nextClockNs;
        for (LinkSupervisor supervisor : supervisors) {
            nextNs = Math.min(nextNs, supervisor.turn(clock.nowNs()));
        }
        return Math.max(0, nextNs - clock.nowNs());
    }

    @Override
    public void close() {
        timer.close();
        links.forEach(Link::close);
    }

    /** Takes what one link reads; on its reader thread. */
    private final class Reader implements LinkListener {
        private final int number;

        Reader(int number) {
            this.number = number;
        }

        @Override
        public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
            for (int done = 0; done < length; done += InputQueue.CHUNK_BYTES) {
                int part = Math.min(InputQueue.CHUNK_BYTES, length - done);
                if (!queue.offer(number, arrivalNs, arrivalNs, bytes, offset + done, part)) {
                    counters.increment(Counter.INPUT_CHUNKS_DROPPED);
                    counters.add(Counter.INPUT_BYTES_DROPPED, part);
                }
            }
        }

        @Override
        public void onState(LinkState state, String reason, long atNs) {
            supervisors.get(number).onState(state, atNs);
            // A state must not be lost: the reader has nothing else to do until it is told.
            queue.put(new StationEvent.LinkChanged(number, state, reason, atNs), atNs);
        }
    }
}

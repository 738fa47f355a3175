package io.heldmark.pipeline;

import io.heldmark.live.LiveFanout;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.ReplayState;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The acquisition thread: takes inputs in queue order, hands each to the recorder and then to the signal path. */
final class Acquisition implements InputQueue.Consumer {
    /** Hears after every input; on the acquisition thread. */
    interface AfterInput {
        /** Called after an input of a link, or of none (-1). */
        void afterInput(StationCore core, int link);
    }

    private static final Logger LOG = LoggerFactory.getLogger(Acquisition.class);
    private static final long END_LIMIT_MS = 10_000;

    private final StationOptions options;
    private final List<LinkSetup> setups;
    private final StationListener out;
    private final Counters counters;
    private final LiveFanout live;
    private final RecordingDesk recording;
    private final InputQueue queue;
    private final Thread thread = new Thread(this::run, "heldmark-acquisition");
    private LaterMoves later = LaterMoves.none();
    private volatile StationCore core;
    private @Nullable AfterInput afterInput;

    Acquisition(
            StationOptions options,
            List<LinkSetup> setups,
            StationListener out,
            Counters counters,
            LiveFanout live,
            RecordingDesk recording,
            InputQueue queue) {
        this.options = options;
        this.setups = setups;
        this.out = out;
        this.counters = counters;
        this.live = live;
        this.recording = recording;
        this.queue = queue;
        core = newCore();
    }

    private StationCore newCore() {
        StationCore made = new StationCore(options.settings(), setups, out, counters);
        made.setLaterMoves(later);
        return made;
    }

    /** Takes what was moved after the session, of a recording; before {@link #start} only. */
    void setLaterMoves(LaterMoves moves) {
        later = moves;
        core = newCore();
    }

    /** Before {@link #start} only. */
    void setAfterInput(AfterInput hears) {
        afterInput = hears;
    }

    void start() {
        thread.start();
    }

    /** Waits until every input that was in the queue has been processed. */
    void awaitEnd() {
        try {
            thread.join(END_LIMIT_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Returns the state from which a recording can begin; acquisition thread. */
    ResumePoint resumePoint() {
        return core.resumePoint();
    }

    /** Returns the finished contractions of the session; any thread. */
    ReviewDesk reviews() {
        return core.reviews();
    }

    /** Forgets the session, as when a replay begins again; acquisition thread. */
    void restart(ReplayState replay) {
        core = newCore();
        live.onSessionRestart(replay);
    }

    private void run() {
        boolean more = true;
        while (more) {
            try {
                more = queue.take(this);
            } catch (RuntimeException | Error fault) {
                // Whatever broke, the recording and the other links go on: a thread that is gone would tell nobody.
                counters.increment(Counter.PROCESSING_FAULTS);
                LOG.error("an input could not be processed", fault);
            }
        }
    }

    @Override
    public void onChunk(
            int link, long arrivalNs, long receivedNs, byte[] bytes, int offset, int length, long lostBefore) {
        counters.increment(Counter.INPUT_CHUNKS);
        if (lostBefore > 0) {
            onEvent(new StationEvent.BytesLost(link, lostBefore, arrivalNs), receivedNs);
        }
        recording.chunk(link, arrivalNs, bytes, offset, length);
        live.onInput(arrivalNs, receivedNs);
        core.onChunk(link, arrivalNs, bytes, offset, length);
        live.onChunkDone();
        tellAfter(link);
    }

    @Override
    public void onEvent(StationEvent event, long receivedNs) {
        recording.event(event);
        live.onInput(event.atNs(), receivedNs);
        event.applyTo(core);
        tellAfter(-1);
    }

    @Override
    public void onTask(Runnable task) {
        task.run();
    }

    private void tellAfter(int link) {
        if (afterInput != null) {
            afterInput.afterInput(core, link);
        }
    }
}

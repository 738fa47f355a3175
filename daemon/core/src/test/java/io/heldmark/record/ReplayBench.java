package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.LongConsumer;

/** A replay on a clock that moves only while the replay sleeps, with everything it feeds written down. */
final class ReplayBench implements ReplaySink {
    final ManualClock clock = new ManualClock();
    final List<String> fed = new ArrayList<>();
    final List<Long> fedAtClockNs = new ArrayList<>();
    final Replay replay;

    /** Called with the number of items fed so far before each sleep; a test works the controls here. */
    LongConsumer beforeSleep = count -> {};

    /** Called with the number of items fed so far after each item. */
    LongConsumer afterItem = count -> {};

    /** Called at each end; closes the replay unless a test wants more of it. */
    Runnable atEnd;

    ReplayBench(Path file) throws RecordingException {
        replay = Replay.open(file, this, clock, this::sleep);
        atEnd = replay::close;
        replay.links().forEach(this::listen);
    }

    void run() {
        replay.run();
    }

    private void sleep(long ns) {
        beforeSleep.accept(fed.size());
        clock.advance(ns);
    }

    private void listen(ReplayLink link) {
        link.start(new LinkListener() {
            @Override
            public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
                byte[] copy = Arrays.copyOfRange(bytes, offset, offset + length);
                note("bytes " + link.number() + " " + arrivalNs + " " + Arrays.toString(copy));
            }

            @Override
            public void onState(LinkState state, String reason, long atNs) {
                note("state " + link.number() + " " + atNs + " " + state + " " + reason);
            }
        });
    }

    private void note(String what) {
        fed.add(what);
        fedAtClockNs.add(clock.nowNs());
        afterItem.accept(fed.size());
    }

    @Override
    public void onEvent(String event, ObjectNode body, long atNs) {
        note("event " + event + " " + atNs + " " + body);
    }

    @Override
    public void onLinkAdded(ReplayLink link) {
        note("link " + link.number() + " " + link.name());
        listen(link);
    }

    @Override
    public void onRestart() {
        note("restart");
    }

    @Override
    public void onEnd(String note) {
        fed.add("end " + note);
        fedAtClockNs.add(clock.nowNs());
        atEnd.run();
    }
}

package io.heldmark.pipeline;

import io.heldmark.detect.HandMoved;
import io.heldmark.detect.KeptWindow;
import io.heldmark.model.Boundaries;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.Window;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.function.BiFunction;
import org.jspecify.annotations.Nullable;

/**
 * Keeps the finished contractions with their samples, so that a person can look at them again and move their boundaries.
 *
 * <p><b>Bounds.</b> The newest {@value #CONTRACTIONS_MAX} contractions; of these, the samples of the newest as long as they
 * are at most {@value #SAMPLES_MAX} in all (17 bytes each, 34 MB; two limbs at 1 kHz in efforts of 6 s: the last 150), the
 * newest always; {@value #STEPS_MAX} steps of undo for each. The oldest give way. These are constants and no settings,
 * because a replay must refuse what the session refused.
 *
 * <p><b>Manual boundaries.</b> Always applied to what the station had found, never to another manual revision: what is in
 * force depends on the boundaries alone, not on the way to them.
 *
 * <p><b>Threading.</b> Written by one thread, read by any.
 */
final class ReviewDesk {
    static final int CONTRACTIONS_MAX = BoundaryChange.CONTRACTIONS_MAX;
    static final int SAMPLES_MAX = 2_000_000;
    static final int STEPS_MAX = 100;

    private static final class Entry {
        private final ChannelInfo channel;
        private Contraction automatic;
        private final double timeU;
        private final List<Boundaries> steps = new ArrayList<>();
        private int step;
        private @Nullable Contraction manual;
        private @Nullable KeptWindow found;
        private @Nullable Window window;
        private @Nullable Effort effort;

        private Entry(ChannelInfo channel, Contraction automatic, KeptWindow found) {
            this.channel = channel;
            this.automatic = automatic;
            this.found = found;
            window = found;
            timeU = found.timeStandardUncertaintyNs();
            steps.add(Boundaries.of(found));
        }

        private Review review() {
            boolean kept = found != null;
            return new Review(
                    channel,
                    automatic,
                    manual,
                    window,
                    timeU,
                    effort,
                    kept && step > 0,
                    kept && step < steps.size() - 1);
        }

        /** Gives the samples away and tells how many they were. */
        private int dropSamples() {
            int held = found == null ? 0 : found.samplesHeld();
            found = null;
            window = null;
            return held;
        }
    }

    private final Map<Long, Entry> entries = new LinkedHashMap<>();
    private final Queue<Entry> withSamples = new ArrayDeque<>(); // In the same order.
    private long samples;

    /** Keeps a finished contraction with its metrics. */
    synchronized void keep(ChannelInfo channel, Contraction automatic, KeptWindow window) {
        Entry newest = new Entry(channel, automatic, window);
        entries.put(automatic.id(), newest);
        withSamples.add(newest);
        samples += window.samplesHeld();
        while (samples > SAMPLES_MAX && withSamples.size() > 1) {
            samples -= withSamples.remove().dropSamples();
        }
        if (entries.size() > CONTRACTIONS_MAX) {
            Iterator<Entry> first = entries.values().iterator();
            Entry dropped = first.next();
            first.remove();
            if (withSamples.peek() == dropped) {
                withSamples.remove();
            }
            samples -= dropped.dropSamples();
        }
    }

    /** Notes an effort, new or computed again, at both its contractions. */
    synchronized void keep(Effort effort) {
        for (long id : new long[] {effort.leftContractionId(), effort.rightContractionId()}) {
            Entry entry = entries.get(id);
            if (entry != null) {
                entry.effort = effort;
            }
        }
    }

    /** Adds a flag to a contraction that is kept, found and moved; returns the one in force. */
    synchronized Contraction flag(long id, ContractionFlag flag) {
        Entry entry = entries.get(id);
        if (entry == null) {
            throw new IllegalStateException("a flag for a contraction that is not kept: " + id);
        }
        entry.automatic = entry.automatic.withFlags(List.of(flag));
        Contraction manual = entry.manual;
        entry.manual = manual == null ? null : manual.withFlags(List.of(flag));
        return entry.review().inForce();
    }

    /** Returns what is known of a contraction; absent where it is not known, not finished or too long ago. */
    synchronized @Nullable Review find(long id) {
        Entry entry = entries.get(id);
        return entry == null ? null : entry.review();
    }

    /** Says in one sentence why a change is refused; absent where it can be made. */
    synchronized @Nullable String refusal(BoundaryChange change) {
        Entry entry = entryOf(change);
        if (entry == null) {
            return "There is no such contraction any more.";
        }
        KeptWindow found = entry.found;
        if (found == null) {
            return Review.GONE;
        }
        Boundaries to = change.to();
        return switch (change.kind()) {
            case MOVE -> to == null ? null : HandMoved.refusal(found, to.onsetNs(), to.releaseStartNs(), to.offsetNs());
            case UNDO -> entry.step > 0 ? null : "There is no step to take back.";
            case REDO -> entry.step < entry.steps.size() - 1 ? null : "There is no step to take again.";
            case AUTOMATIC -> entry.manual != null ? null : "The boundaries are those that the station found.";
        };
    }

    /**
     * Makes a change that is not refused.
     *
     * @param change the change.
     * @param measure computes flags and metrics of a contraction within its window.
     * @return what is known of the contraction now.
     */
    synchronized Review apply(BoundaryChange change, BiFunction<Contraction, Window, Contraction> measure) {
        Entry entry = entryOf(change);
        if (entry == null || entry.found == null) {
            throw new IllegalStateException("a change is asked for before it is made: " + change);
        }
        Boundaries found = Boundaries.of(entry.found);
        Boundaries to = change.to();
        switch (change.kind()) {
            case MOVE -> push(entry, to == null ? found : to);
            case AUTOMATIC -> push(entry, found);
            case UNDO -> entry.step--;
            case REDO -> entry.step++;
        }
        put(entry, entry.found, entry.steps.get(entry.step), measure);
        return entry.review();
    }

    private static void put(
            Entry entry, KeptWindow found, Boundaries at, BiFunction<Contraction, Window, Contraction> measure) {
        if (at.equals(Boundaries.of(found))) {
            entry.manual = null;
            entry.window = found;
            return;
        }
        HandMoved moved = HandMoved.finish(entry.automatic, found, at.onsetNs(), at.releaseStartNs(), at.offsetNs());
        entry.manual = measure.apply(moved.contraction(), moved.window());
        entry.window = moved.window();
    }

    private static void push(Entry entry, Boundaries to) {
        List<Boundaries> steps = entry.steps;
        steps.subList(entry.step + 1, steps.size()).clear();
        if (!steps.get(entry.step).equals(to)) {
            steps.add(to);
            entry.step++;
        }
        if (steps.size() > STEPS_MAX) {
            steps.remove(0);
            entry.step--;
        }
    }

    private @Nullable Entry entryOf(BoundaryChange change) {
        for (Entry entry : entries.values()) {
            if (entry.automatic.channel() == change.channel()
                    && entry.automatic.onsetNs() == change.automaticOnsetNs()) {
                return entry;
            }
        }
        return null;
    }
}

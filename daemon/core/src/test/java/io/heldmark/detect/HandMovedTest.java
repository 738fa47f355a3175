package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.InventedEffort.Rise;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.List;
import org.junit.jupiter.api.Test;

class HandMovedTest {
    private static final InventedEffort EFFORT = InventedEffort.explosive(3, 400, Rise.EXPONENTIAL, 0.08, 2);
    private static final long MS = 1_000_000L;

    /** The last contraction of a trace, with its samples kept. */
    private static final class Kept implements ContractionDetector.Listener {
        Contraction contraction;
        KeptWindow window;

        static Kept of(InventedTrace trace) {
            Kept kept = new Kept();
            ContractionDetector detector =
                    new ContractionDetector(DetectorConfig.defaults(), trace.channel(), () -> 1, kept);
            detector.zeroTaken(0, ZeroReference.taken(0, 0.1, 0));
            trace.feed(detector::onBatch);
            assertNotNull(kept.window);
            return kept;
        }

        HandMoved move(long onsetNs, long releaseNs, long offsetNs) {
            return HandMoved.finish(contraction, window, onsetNs, releaseNs, offsetNs);
        }

        @Override
        public void onOpened(Contraction provisional, long atNs) {}

        @Override
        public void onClosed(Contraction finished, Window w, long atNs) {
            contraction = finished;
            window = KeptWindow.of(w);
            assertEquals(w.onsetIndex(), window.onsetIndex());
            assertEquals(w.offsetIndex(), window.offsetIndex());
        }

        @Override
        public void onWithdrawn(Contraction withdrawn, long atNs) {}
    }

    private static InventedTrace trace() {
        return new InventedTrace(1000, 12, 1).noise(0.5).with(EFFORT);
    }

    @Test
    void shouldKeepTheSameNumbersWhereNothingMoves() {
        Kept kept = Kept.of(trace());
        Contraction c = kept.contraction;
        HandMoved same = kept.move(c.onsetNs(), c.releaseStartNs(), c.offsetNs());
        assertEquals(Revision.MANUAL, same.contraction().revision());
        assertEquals(c.id(), same.contraction().id());
        assertEquals(c.restingLevelN(), same.contraction().restingLevelN());
        assertEquals(c.onsetStandardUncertaintyNs(), same.contraction().onsetStandardUncertaintyNs());
        assertEquals(c.flags(), same.contraction().flags());
        assertEquals(List.of(), same.contraction().metrics());
    }

    @Test
    void shouldTakeTheRestBeforeTheOnsetThatAPersonSets() {
        InventedTrace trace = trace();
        trace.others.add(t -> t > 2.5 ? 12 : 0); // A level of 12 N from half a second before the onset.
        Kept kept = Kept.of(trace);
        assertTrue(kept.contraction.flags().contains("resting-level-off-zero"));
        Contraction c = kept.contraction;
        Contraction earlier =
                kept.move(2_450 * MS, c.releaseStartNs(), c.offsetNs()).contraction();
        assertEquals(12, c.restingLevelN(), 0.2);
        assertEquals(0, earlier.restingLevelN(), 0.2);
        assertFalse(earlier.flags().contains("resting-level-off-zero"));
        Contraction across =
                kept.move(2_600 * MS, c.releaseStartNs(), c.offsetNs()).contraction();
        assertTrue(across.flags().contains("baseline-unstable"), "the level stepped within 200 ms before");
    }

    @Test
    void shouldStateAnUncertaintyOfItsOwnForWhatWasMovedAlone() {
        Kept kept = Kept.of(trace());
        Contraction c = kept.contraction;
        HandMoved moved = kept.move(c.onsetNs(), c.releaseStartNs() - 50 * MS, c.offsetNs() + 5 * MS);
        assertEquals(kept.window.onsetStandardUncertaintyNs(), moved.window().onsetStandardUncertaintyNs());
        // 0.5 N noise on a fall of some 250 N/s: the hand's 2 ms rule.
        assertEquals(2.2e6, moved.window().offsetStandardUncertaintyNs(), 0.4e6);
        assertEquals(c.releaseStartNs() - 50 * MS, moved.contraction().releaseStartNs());
        // On rest nothing tells where a boundary belongs.
        HandMoved onRest = kept.move(c.onsetNs() - 500 * MS, c.releaseStartNs(), c.offsetNs());
        assertTrue(onRest.contraction().onsetStandardUncertaintyNs() > 5e6);
    }

    @Test
    void shouldFlagTheGapsThatLieWithin() {
        Kept kept = Kept.of(trace().gap(4.0, 4.3));
        Contraction c = kept.contraction;
        assertTrue(c.flags().contains("gap-inside"));
        Contraction after =
                kept.move(4_400 * MS, c.releaseStartNs(), c.offsetNs()).contraction();
        assertFalse(after.flags().contains("gap-inside"));
        Kept hidden = Kept.of(trace().gap(2.8, 3.25));
        assertTrue(hidden.contraction.flags().contains("onset-not-seen"));
        Contraction h = hidden.contraction;
        Contraction placed =
                hidden.move(2_790 * MS, h.releaseStartNs(), h.offsetNs()).contraction();
        assertFalse(placed.flags().contains("onset-not-seen"));
        assertTrue(placed.flags().contains("gap-inside"));
    }

    @Test
    void shouldUndoByMovingBack() {
        Kept kept = Kept.of(trace());
        Contraction c = kept.contraction;
        HandMoved moved = kept.move(c.onsetNs() - 10 * MS, c.releaseStartNs(), c.offsetNs());
        HandMoved again = HandMoved.finish(
                moved.contraction(),
                moved.window(),
                moved.contraction().onsetNs(),
                moved.contraction().releaseStartNs(),
                c.offsetNs() + MS);
        assertEquals(moved.contraction().restingLevelN(), again.contraction().restingLevelN());
        assertEquals(c.onsetNs(), kept.window.onsetNs(), "the automatic one is untouched");
    }

    @Test
    void shouldRefuseWithAPlainReason() {
        Kept kept = Kept.of(trace());
        Contraction c = kept.contraction;
        KeptWindow w = kept.window;
        long on = c.onsetNs();
        long release = c.releaseStartNs();
        long off = c.offsetNs();
        assertNull(HandMoved.refusal(w, on, release, off));
        assertEquals(
                "Boundaries must lie within the kept samples, from 1.5",
                String.valueOf(HandMoved.refusal(w, w.timeNs(0) - 1, release, off))
                        .replaceAll("\\d\\d s before.*", ""));
        assertNotNull(HandMoved.refusal(w, on, release, w.timeNs(w.size() - 1) + 1));
        assertEquals(
                "The onset must come before the start of the release.", HandMoved.refusal(w, release, release, off));
        assertEquals(
                "The start of the release must not come after the offset.", HandMoved.refusal(w, on, off + 1, off));
        assertEquals(
                "Fewer than four samples lie between onset and offset.", HandMoved.refusal(w, on, on + 1, on + 2 * MS));
        String reason = assertThrows(IllegalArgumentException.class, () -> kept.move(off, release, on))
                .getMessage();
        assertEquals("The onset must come before the start of the release.", reason);
    }
}

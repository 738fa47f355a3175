package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.KeptWindow;
import io.heldmark.model.Boundaries;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** What is kept for review, for how long, and what people may do with it. */
class ReviewDeskTest {
    private static final long MS = 1_000_000L;
    private static final ChannelInfo CHANNEL =
            new ChannelInfo(0, "test", "", 0, "left", Limb.LEFT, 1000, 0, 0, "N", "factory", 0.002, 0.01);

    private final ReviewDesk desk = new ReviewDesk();

    @Test
    void shouldKeepBothRevisionsAndTakeStepsBack() {
        Contraction found = keep(1, 3000);
        assertNull(review(1).manual());
        assertFalse(review(1).undo());

        desk.apply(BoundaryChange.move(found, moved(found, 10)), ReviewDeskTest::measured);
        desk.apply(BoundaryChange.move(found, moved(found, 20)), ReviewDeskTest::measured);
        assertEquals(found, review(1).automatic());
        Contraction manual = Objects.requireNonNull(review(1).manual());
        assertEquals(Revision.MANUAL, manual.revision());
        assertEquals(found.onsetNs() + 20 * MS, manual.onsetNs());
        assertEquals(manual, review(1).inForce());
        assertEquals(
                found.onsetNs() + 20 * MS,
                Objects.requireNonNull(review(1).window()).onsetNs());

        step(found, BoundaryChange.Kind.UNDO);
        assertEquals(found.onsetNs() + 10 * MS, review(1).inForce().onsetNs());
        assertTrue(review(1).undo() && review(1).redo());
        step(found, BoundaryChange.Kind.UNDO);
        assertNull(review(1).manual());
        step(found, BoundaryChange.Kind.REDO);
        step(found, BoundaryChange.Kind.REDO);
        assertEquals(manual, review(1).manual());

        step(found, BoundaryChange.Kind.AUTOMATIC);
        assertNull(review(1).manual());
        step(found, BoundaryChange.Kind.UNDO);
        assertEquals(manual, review(1).manual());
    }

    @Test
    void shouldForgetTheStepsTakenBackOnceAnotherIsMade() {
        Contraction found = keep(1, 3000);
        desk.apply(BoundaryChange.move(found, moved(found, 10)), ReviewDeskTest::measured);
        step(found, BoundaryChange.Kind.UNDO);
        desk.apply(BoundaryChange.move(found, moved(found, 30)), ReviewDeskTest::measured);
        assertFalse(review(1).redo());
        assertEquals("There is no step to take again.", refusal(found, BoundaryChange.Kind.REDO));
    }

    @Test
    void shouldKeepABoundedNumberOfSteps() {
        Contraction found = keep(1, 3000);
        for (int i = 1; i <= ReviewDesk.STEPS_MAX + 50; i++) {
            desk.apply(BoundaryChange.move(found, moved(found, i)), ReviewDeskTest::measured);
        }
        int back = 0;
        while (review(1).undo()) {
            step(found, BoundaryChange.Kind.UNDO);
            back++;
        }
        assertEquals(ReviewDesk.STEPS_MAX - 1, back);
        assertEquals(found.onsetNs() + 51 * MS, review(1).inForce().onsetNs());
    }

    @Test
    void shouldSayWhyAChangeIsRefused() {
        Contraction found = keep(1, 3000);
        assertEquals("There is no step to take back.", refusal(found, BoundaryChange.Kind.UNDO));
        assertEquals("The boundaries are those that the station found.", refusal(found, BoundaryChange.Kind.AUTOMATIC));
        assertEquals(
                "The onset must come before the start of the release.",
                desk.refusal(BoundaryChange.move(
                        found, new Boundaries(found.offsetNs(), found.releaseStartNs(), found.offsetNs()))));
        assertTrue(Objects.requireNonNull(desk.refusal(BoundaryChange.move(found, moved(found, -5000))))
                .startsWith("Boundaries must lie within the kept samples"));
        assertEquals(
                "There is no such contraction any more.",
                desk.refusal(new BoundaryChange(0, 1, BoundaryChange.Kind.UNDO, null)));
        assertNull(desk.refusal(BoundaryChange.move(found, moved(found, 1))));
    }

    @Test
    void shouldLetTheOldestSamplesGoFirstAndSayThatTheyAreGone() {
        int size = ReviewDesk.SAMPLES_MAX / 4;
        Contraction first = keep(1, size);
        desk.apply(BoundaryChange.move(first, moved(first, 10)), ReviewDeskTest::measured);
        for (int id = 2; id <= 4; id++) {
            keep(id, size);
        }
        assertNotNull(review(1).window());
        keep(5, size);
        assertNull(review(1).window());
        assertNotNull(review(2).window());
        assertEquals(Revision.MANUAL, review(1).inForce().revision(), "its figures stay");
        assertFalse(review(1).undo());
        assertEquals(Review.GONE, refusal(first, BoundaryChange.Kind.UNDO));
        assertEquals(List.of(), review(1).marks());
    }

    @Test
    void shouldKeepTheNewestHoweverLong() {
        keep(1, 10_000);
        keep(2, ReviewDesk.SAMPLES_MAX + 1);
        assertNull(review(1).window());
        assertNotNull(review(2).window());
        keep(3, 10_000);
        assertNull(review(2).window());
        assertNotNull(review(3).window());
    }

    @Test
    void shouldForgetTheOldestContractions() {
        for (int id = 1; id <= ReviewDesk.CONTRACTIONS_MAX + 1; id++) {
            keep(id, 50);
        }
        assertNull(desk.find(1));
        assertNotNull(desk.find(2));
    }

    private Contraction keep(long id, int size) {
        Window window = new Stretch(id * 1_000_000 * MS, size);
        Contraction found = new Contraction(
                id,
                Revision.FINAL,
                0,
                Limb.LEFT,
                window.onsetNs(),
                MS,
                window.releaseStartNs(),
                window.offsetNs(),
                0,
                List.of(),
                List.of(MetricValue.of("force.peak", 1, 1, "N")));
        desk.keep(CHANNEL, found, KeptWindow.of(window));
        return found;
    }

    private Review review(long id) {
        return Objects.requireNonNull(desk.find(id));
    }

    private void step(Contraction found, BoundaryChange.Kind kind) {
        assertNull(refusal(found, kind));
        desk.apply(BoundaryChange.step(found, kind), ReviewDeskTest::measured);
    }

    private @Nullable String refusal(Contraction found, BoundaryChange.Kind kind) {
        return desk.refusal(BoundaryChange.step(found, kind));
    }

    private static Boundaries moved(Contraction found, long byMs) {
        return new Boundaries(found.onsetNs() + byMs * MS, found.releaseStartNs(), found.offsetNs());
    }

    private static Contraction measured(Contraction contraction, Window window) {
        double durationS = (window.offsetNs() - window.onsetNs()) / 1e9;
        return contraction.withMetrics(List.of(MetricValue.of("duration", durationS, 0.001, "s")));
    }

    /** A block of 100 N over the middle three fifths of a stretch, 1 kHz. */
    private record Stretch(long t0Ns, int size) implements Window {
        @Override
        public long timeNs(int index) {
            return t0Ns + index * MS;
        }

        @Override
        public double forceN(int index) {
            return index >= onsetIndex() && index <= offsetIndex() ? 100 : 0;
        }

        @Override
        public boolean gapBefore(int index) {
            return false;
        }

        @Override
        public int onsetIndex() {
            return size / 5;
        }

        @Override
        public int offsetIndex() {
            return size * 4 / 5;
        }

        @Override
        public long onsetNs() {
            return timeNs(onsetIndex());
        }

        @Override
        public long releaseStartNs() {
            return timeNs(offsetIndex() - size / 10);
        }

        @Override
        public long offsetNs() {
            return timeNs(offsetIndex());
        }

        @Override
        public double onsetStandardUncertaintyNs() {
            return MS;
        }

        @Override
        public double offsetStandardUncertaintyNs() {
            return MS;
        }

        @Override
        public double timeStandardUncertaintyNs() {
            return MS;
        }

        @Override
        public double restingLevelN() {
            return 0;
        }

        @Override
        public double restingNoiseN() {
            return 0.5;
        }

        @Override
        public double restingCorrelationSamples() {
            return 1;
        }

        @Override
        public double sampleRateHz() {
            return 1000;
        }

        @Override
        public ChannelInfo channel() {
            return CHANNEL;
        }

        @Override
        public ZeroReference zero() {
            return ZeroReference.taken(0, 0.1, 0);
        }

        @Override
        public TestConditions conditions() {
            return TestConditions.UNKNOWN;
        }
    }
}

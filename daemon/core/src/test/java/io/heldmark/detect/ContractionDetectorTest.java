package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.InventedEffort.Rise;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Limb;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What the detector does, case by case; how well, over a grid, stands in {@link DetectionEvidenceTest}. */
class ContractionDetectorTest {
    private static final InventedEffort EFFORT = InventedEffort.explosive(3, 400, Rise.EXPONENTIAL, 0.08, 2);

    private static InventedTrace trace() {
        return new InventedTrace(1000, 12, 1).noise(0.5);
    }

    private static Contraction only(DetectorRun run) {
        assertEquals(1, run.closed.size(), () -> "closed " + run.closed + " withdrawn " + run.withdrawn);
        return run.closed.get(0);
    }

    @Test
    void shouldTellAnEffortFromOpeningToEnd() {
        DetectorRun run = DetectorRun.of(trace().with(EFFORT));
        assertEquals(1, run.opened.size());
        Contraction first = run.opened.get(0).contraction();
        Contraction last = only(run);
        assertEquals(Revision.PROVISIONAL, first.revision());
        assertEquals(0, first.offsetNs());
        assertTrue(Double.isNaN(first.onsetStandardUncertaintyNs()));
        assertEquals(3, first.onsetNs() * 1e-9, 0.02);
        assertEquals(Revision.FINAL, last.revision());
        assertEquals(first.id(), last.id());
        assertEquals(EFFORT.onsetS(), last.onsetNs() * 1e-9, 0.004);
        assertEquals(EFFORT.releaseStartS(), last.releaseStartNs() * 1e-9, 0.01);
        assertEquals(EFFORT.offsetS(), last.offsetNs() * 1e-9, 0.01);
        assertEquals(0, last.restingLevelN(), 0.2);
        assertEquals(List.of(), last.flags());
        assertEquals(0.5, run.noiseN.get(last.id()), 0.08);
    }

    @Test
    void shouldTakeTheOffsetFromTheForceAtTheRelease() {
        // The force tires from 400 to 200 N: 5 % of 200 N, not of the peak.
        InventedEffort tired = EFFORT.withFatigue(0.25).withRelease(0.25, false);
        Contraction c = only(DetectorRun.of(trace().with(tired)));
        assertEquals(tired.offsetS(), c.offsetNs() * 1e-9, 0.02);
        double of400 = tired.releaseStartS() + 0.25 * StrictMath.log(10);
        assertTrue(c.offsetNs() * 1e-9 - of400 > 0.1, "20 N, 5 % of the peak, were passed 0.17 s earlier");
    }

    @Test
    void shouldFindWeakAndStrongEfforts() {
        InventedEffort weak = InventedEffort.ramp(3, 20, 1, 2);
        assertNotNull(DetectorRun.match(weak, DetectorRun.of(trace().with(weak)).closed));
        InventedEffort strong = InventedEffort.explosive(3, 1500, Rise.SIGMOID, 0.2, 2);
        assertNotNull(DetectorRun.match(strong, DetectorRun.of(trace().with(strong)).closed));
    }

    @Test
    void shouldSplitAtAReturnToRestOnly() {
        InventedEffort dipped = EFFORT.withValley(0.3);
        Contraction one = only(DetectorRun.of(trace().with(dipped)));
        assertEquals(List.of("double-effort"), one.flags());
        assertNotNull(DetectorRun.match(dipped, List.of(one)));
        InventedEffort second = InventedEffort.explosive(EFFORT.offsetS() + 0.25, 380, Rise.POWER, 0.2, 1.5);
        DetectorRun two = DetectorRun.of(trace().with(EFFORT).with(second));
        assertEquals(2, two.closed.size());
        assertNotNull(DetectorRun.match(EFFORT, two.closed));
        assertNotNull(DetectorRun.match(second, two.closed));
        assertTrue(two.closed.get(0).offsetNs() <= two.closed.get(1).onsetNs(), "windows do not overlap");
        // Down to a tenth of the peak and up again: the lowest point parts the two.
        DetectorRun nearly = DetectorRun.of(trace().with(EFFORT.withValley(0.1)));
        assertEquals(2, nearly.closed.size());
        assertTrue(nearly.closed.get(0).flags().contains("not-back-to-rest"));
    }

    @Test
    void shouldTakeHandlingForHandling() {
        InventedTrace trace = new InventedTrace(1000, 60, 2).noise(0.5);
        trace.laidDown(4, 40, 0.02, 10).laidDown(14, 25, 0.05, 18).laidDown(22, 60, 0.3, 30);
        trace.bump(33, 150, 0.02)
                .bump(36, 80, 0.08)
                .twitch(39, 30, 0.06)
                .twitch(42, 15, 0.09)
                .bump(45, 40, 0.2);
        DetectorRun run = DetectorRun.of(trace);
        assertEquals(List.of(), run.closed);
        for (DetectorRun.Opening o : run.opened) {
            assertTrue(
                    run.withdrawn.stream()
                            .anyMatch(w -> w.id() == o.contraction().id()),
                    "every opening is taken back");
        }
        assertTrue(run.withdrawn.stream()
                .allMatch(w -> w.revision() == Revision.WITHDRAWN && !w.flags().isEmpty()));
    }

    @Test
    void shouldFindTheEffortOfALimbThatWasLaidDown() {
        InventedEffort after = InventedEffort.explosive(5, 300, Rise.EXPONENTIAL, 0.08, 2);
        InventedTrace trace = trace().laidDown(3, 40, 0.03, 11).with(after);
        Contraction c = DetectorRun.match(after, DetectorRun.of(trace).closed);
        assertNotNull(c);
        assertEquals(40, c.restingLevelN(), 1);
        assertTrue(c.flags().contains("resting-level-off-zero"));
    }

    @Test
    void shouldNotLoseAnEffortOnTopOfAWeight() {
        InventedEffort on = InventedEffort.explosive(3.6, 70, Rise.EXPONENTIAL, 0.08, 1.5);
        DetectorRun run = DetectorRun.of(trace().laidDown(3, 30, 0.25, 11).with(on));
        assertTrue(run.closed.stream().anyMatch(c -> c.onsetNs() < 3_700_000_000L && c.offsetNs() > 5_400_000_000L));
    }

    @Test
    void shouldTellAWeightFromALightHoldByItsStillness() {
        InventedTrace weight = trace().laidDown(3, 30, 0.25, 11);
        assertEquals(
                List.of("handling-still"),
                DetectorRun.of(weight).withdrawn.get(0).flags());
        InventedEffort hold = new InventedEffort(3, 30, Rise.SIGMOID, 0.25, 6, 0.25, true, 0, 0.01, 0, 0, 0, 0, 1);
        assertNotNull(DetectorRun.match(hold, DetectorRun.of(trace().with(hold)).closed));
        // Without the least tremor it takes a weight's time: a slow rise gets ten seconds.
        InventedEffort calm = new InventedEffort(3, 30, Rise.RAMP, 1, 6, 0.25, true, 0, 0, 0, 0, 0, 0, 1);
        assertNotNull(DetectorRun.match(calm, DetectorRun.of(trace().with(calm)).closed));
    }

    @Test
    void shouldFollowDriftWithoutMissingASlowRamp() {
        InventedEffort slow = InventedEffort.ramp(30, 30, 3, 2); // 10 N/s
        InventedTrace trace =
                new InventedTrace(1000, 40, 3).noise(0.5).drift(0.5).with(slow);
        Contraction c = only(DetectorRun.of(trace));
        assertNotNull(DetectorRun.match(slow, List.of(c)));
        assertEquals(15, c.restingLevelN(), 0.5, "0.5 N/s for 30 s");
    }

    @Test
    void shouldSayThatASlowRiseIsNoExplosiveEffort() {
        InventedEffort ramp = InventedEffort.ramp(3, 300, 2, 1);
        assertEquals(
                List.of("slow-rise"), only(DetectorRun.of(trace().with(ramp))).flags());
        InventedEffort weak = InventedEffort.ramp(3, 30, 2, 2);
        List<String> flags = only(DetectorRun.of(trace().noise(2).with(weak))).flags();
        assertTrue(flags.containsAll(List.of("onset-uncertain", "slow-rise")), flags.toString());
    }

    @Test
    void shouldFlagPreTensionAndBeginAtTheEffort() {
        InventedEffort tense = EFFORT.withPreTension(30, 0.8);
        Contraction c = only(DetectorRun.of(trace().with(tense)));
        assertTrue(c.flags().contains("pre-tension"), c.flags().toString());
        assertTrue(c.flags().contains("resting-level-off-zero"));
        assertEquals(tense.onsetS(), c.onsetNs() * 1e-9, 0.005);
        assertEquals(30, c.restingLevelN(), 1);
    }

    @Test
    void shouldFlagACountermovement() {
        InventedEffort dip = EFFORT.withDip(25, 0.2);
        Contraction c = only(DetectorRun.of(trace().with(dip)));
        assertTrue(c.flags().contains("countermovement"));
        assertEquals(dip.onsetS(), c.onsetNs() * 1e-9, 0.01);
        assertEquals(0, c.restingLevelN(), 0.5, "the level before the dip");
    }

    @Test
    void shouldFlagAnUnsteadyRest() {
        InventedTrace trace = trace().with(EFFORT);
        trace.others.add(t -> t > 2.8 && t < 3 ? 20 * (t - 2.8) : t >= 3 && t < 5 ? 4 : 0);
        assertTrue(only(DetectorRun.of(trace)).flags().contains("baseline-unstable"));
    }

    @Test
    void shouldSurviveAShortGapAndSaySo() {
        Contraction c = only(DetectorRun.of(trace().with(EFFORT).gap(4.0, 4.3)));
        assertEquals(List.of("gap-inside"), c.flags());
        assertNotNull(DetectorRun.match(EFFORT, List.of(c)));
    }

    @Test
    void shouldEndAtALongGapAndSayThatTheEndWasNotSeen() {
        DetectorRun run = DetectorRun.of(trace().with(EFFORT).gap(4.0, 7.5));
        Contraction c = only(run);
        assertEquals(List.of("samples-lost"), c.flags());
        assertEquals(4.0, c.offsetNs() * 1e-9, 0.003);
        assertEquals(c.offsetNs(), c.releaseStartNs());
    }

    @Test
    void shouldNotInventAnOnsetInAGap() {
        Contraction c = only(DetectorRun.of(trace().with(EFFORT).gap(2.8, 3.25)));
        assertTrue(c.flags().contains("onset-not-seen"));
        assertEquals(3.25, c.onsetNs() * 1e-9, 0.0011, "the first sample after the gap");
        assertTrue(c.onsetStandardUncertaintyNs() > 1e8);
    }

    @Test
    void shouldEndWhenSamplesStayAwayAndTheClockSaysSo() {
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(trace().channel(), closed);
        trace().with(EFFORT).gap(4, 99).feed(detector::onBatch);
        assertTrue(detector.inContraction());
        detector.onClock(5_400_000_000L);
        assertTrue(detector.inContraction(), "packets may be late");
        detector.onClock(5_600_000_000L);
        assertFalse(detector.inContraction());
        assertTrue(closed.get(0).flags().contains("samples-lost"));
    }

    @Test
    void shouldEndWhatIsOpenWhenTheLinkIsLost() {
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(trace().channel(), closed);
        trace().with(EFFORT).gap(4, 99).feed(detector::onBatch);
        detector.reset(4_100_000_000L);
        assertEquals(1, closed.size());
        assertFalse(detector.inContraction());
        // The same trace once more, earlier times included: nothing of the past is left.
        trace().with(EFFORT).feed(detector::onBatch);
        assertEquals(2, closed.size());
        assertNotNull(DetectorRun.match(EFFORT, closed.subList(1, 2)));
    }

    @Test
    void shouldEndTheTrialAndGoOnWhenTimeStepsBack() {
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(trace().channel(), closed);
        trace().with(EFFORT).gap(4, 99).feed(detector::onBatch);
        trace().with(EFFORT).feed(detector::onBatch);
        assertEquals(2, closed.size());
        assertTrue(closed.get(0).flags().contains("clock-restarted"));
        assertNotNull(DetectorRun.match(EFFORT, closed.subList(1, 2)));
    }

    @Test
    void shouldCutAContractionThatNeverEnds() {
        List<Contraction> closed = new ArrayList<>();
        DetectorConfig config = new DetectorConfig(5, 5.5, 10, 0.25, 0.5, 5);
        InventedTrace trace = trace().with(InventedEffort.explosive(2, 300, Rise.EXPONENTIAL, 0.1, 8));
        ContractionDetector detector = listening(config, trace.channel(), closed);
        trace.feed(detector::onBatch);
        assertEquals(1, closed.size());
        assertTrue(closed.get(0).flags().contains("maximum-length"));
        assertEquals(5, (closed.get(0).offsetNs() - closed.get(0).onsetNs()) * 1e-9, 0.05);
    }

    @Test
    void shouldEndWhereTheForceSettlesWhenRestHasChanged() {
        InventedTrace trace = trace().with(EFFORT);
        trace.others.add(t -> t > EFFORT.releaseStartS() ? 35 : 0);
        Contraction c = only(DetectorRun.of(trace));
        assertTrue(c.flags().contains("resting-level-changed"));
        assertNotNull(DetectorRun.match(EFFORT, List.of(c)));
    }

    @Test
    void shouldPassOnWhatBatchesSay() {
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(trace().channel(), closed);
        trace().with(EFFORT).feed(batch -> {
            long at = batch.timeNs[0];
            batch.flags |= at > 4_000_000_000L && at < 4_100_000_000L ? SampleBatch.OVERLOAD : 0;
            batch.flags |= at > 7_000_000_000L ? SampleBatch.ADC_FAULT : 0;
            batch.timeStandardUncertaintyNs = 6e6;
            detector.onBatch(batch);
        });
        assertEquals(List.of("overload"), closed.get(0).flags(), "the fault came long after the end");
        assertTrue(closed.get(0).onsetStandardUncertaintyNs() >= 6e6, "alignment is part of the onset's uncertainty");
    }

    @Test
    void shouldSayThatNoZeroWasTakenAndNoCalibrationIsKnown() {
        ChannelInfo channel =
                new ChannelInfo(4, "l", "", 0, "c", Limb.RIGHT, 1000, 0, 0, "N", "unknown", Double.NaN, 0.01);
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector =
                new ContractionDetector(DetectorConfig.defaults(), channel, () -> 17, new Collector(closed));
        trace().with(EFFORT).feed(detector::onBatch);
        assertEquals(List.of("no-zero", "calibration-unknown"), closed.get(0).flags());
        assertEquals(17, closed.get(0).id());
        assertEquals(4, closed.get(0).channel());
        assertEquals(Limb.RIGHT, closed.get(0).limb());
    }

    @Test
    void shouldLeaveCountsAlone() {
        ChannelInfo counts =
                new ChannelInfo(0, "l", "", 0, "c", Limb.LEFT, 1000, 0, 0, "count", "unknown", Double.NaN, 1);
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(counts, closed);
        trace().with(EFFORT).feed(detector::onBatch);
        assertEquals(List.of(), closed);
    }

    @Test
    void shouldReferEverythingToANewZero() {
        List<Contraction> closed = new ArrayList<>();
        InventedTrace trace = trace().with(EFFORT);
        ContractionDetector detector = listening(trace.channel(), closed);
        boolean[] taken = {false};
        trace.feed(batch -> {
            if (!taken[0] && batch.timeNs[0] > 2_900_000_000L) {
                taken[0] = true;
                detector.zeroTaken(
                        100, ZeroReference.taken(100, 0.2, 0)); // Right before the onset: kept samples move along.
            }
            for (int i = 0; i < batch.count; i++) {
                batch.forceN[i] += taken[0] ? 0 : 100;
            }
            detector.onBatch(batch);
        });
        assertEquals(1, closed.size());
        assertEquals(0, closed.get(0).restingLevelN(), 0.2);
        assertEquals(List.of(), closed.get(0).flags());
    }

    @Test
    void shouldFindTheSameWhateverTheZeroAndTheBatches() {
        List<Contraction> plain = DetectorRun.of(trace().with(EFFORT)).closed;
        InventedTrace offset = trace().with(EFFORT);
        offset.offsetN = 256; // A power of two: adding it loses no digits that matter here.
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(offset.channel(), closed);
        SampleBatch single = new SampleBatch(1);
        single.count = 1;
        offset.feed(batch -> {
            for (int i = 0; i < batch.count; i++) {
                single.timeNs[0] = batch.timeNs[i];
                single.forceN[0] = batch.forceN[i] - 256;
                detector.onBatch(single);
            }
        });
        assertEquals(plain.get(0).onsetNs() * 1e-9, closed.get(0).onsetNs() * 1e-9, 1e-6);
        assertEquals(plain.get(0).offsetNs() * 1e-9, closed.get(0).offsetNs() * 1e-9, 1e-6);
        assertEquals(plain.get(0).restingLevelN(), closed.get(0).restingLevelN(), 1e-9);
    }

    @Test
    void shouldMoveWithTimeAndBeTheSameEachTime() {
        List<Contraction> one = DetectorRun.of(trace().with(EFFORT)).closed;
        assertEquals(one, DetectorRun.of(trace().with(EFFORT)).closed, "bit for bit");
        List<Contraction> closed = new ArrayList<>();
        ContractionDetector detector = listening(trace().channel(), closed);
        trace().with(EFFORT).feed(batch -> {
            for (int i = 0; i < batch.count; i++) {
                batch.timeNs[i] += 123_456_789_000L;
            }
            detector.onBatch(batch);
        });
        assertEquals(one.get(0).onsetNs() + 123_456_789_000L, closed.get(0).onsetNs());
        assertEquals(one.get(0).offsetNs() + 123_456_789_000L, closed.get(0).offsetNs());
    }

    private static ContractionDetector listening(ChannelInfo channel, List<Contraction> closed) {
        return listening(DetectorConfig.defaults(), channel, closed);
    }

    private static ContractionDetector listening(DetectorConfig config, ChannelInfo channel, List<Contraction> closed) {
        long[] ids = {0};
        ContractionDetector detector = new ContractionDetector(config, channel, () -> ++ids[0], new Collector(closed));
        detector.zeroTaken(0, ZeroReference.taken(0, 0.1, 0));
        return detector;
    }

    private record Collector(List<Contraction> closed) implements ContractionDetector.Listener {
        @Override
        public void onOpened(Contraction provisional, long atNs) {
            assertTrue(provisional.onsetNs() <= atNs);
        }

        @Override
        public void onClosed(Contraction finished, Window window, long atNs) {
            assertTrue(window.timeNs(window.onsetIndex()) >= finished.onsetNs());
            assertTrue(window.timeNs(window.offsetIndex()) <= finished.offsetNs());
            closed.add(finished);
        }

        @Override
        public void onWithdrawn(Contraction withdrawn, long atNs) {}
    }
}

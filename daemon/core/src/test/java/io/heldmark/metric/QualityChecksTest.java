package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.CellCalibration;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class QualityChecksTest {
    private static final double LENGTH_S = 4;

    /** A ramp of a second, a hold up to the given time, a release of 0.3 s. */
    private static double held(double t, double untilS) {
        if (t < 0) {
            return 0;
        }
        return 300 * Math.min(1, t) * (t < untilS ? 1 : Math.max(0, 1 - (t - untilS) / 0.3));
    }

    private static InventedWindow window(DoubleUnaryOperator force) {
        InventedWindow w = InventedWindow.of(1000, LENGTH_S, force);
        w.restingNoiseN = 0.5;
        w.releaseS = 3.5;
        return w;
    }

    private static List<ContractionFlag> judge(InventedWindow w) {
        return QualityChecks.judge(w, List.of());
    }

    @Test
    void shouldRaiseNothingOfASoundHold() {
        assertEquals(List.of(), judge(window(t -> held(t, 3.5))));
        InventedWindow tired = window(t -> held(t, 3.5) * (1 - 0.04 * Math.max(0, t - 1)));
        assertEquals(List.of(), judge(tired), "tiring by a tenth is no jerk");
    }

    @Test
    void shouldSeeThatNothingIsHeld() {
        InventedWindow hill = window(t -> t < 0 ? 0 : 300 * Math.max(0, 1 - Math.abs(t - 1.8) / 1.8));
        assertEquals(List.of(ContractionFlag.NO_PLATEAU), judge(hill));
        hill.conditions = TestConditions.UNKNOWN.toBuilder()
                .effortType(EffortType.ECCENTRIC)
                .build();
        assertEquals(List.of(), judge(hill), "a lowering has no plateau");
        hill.conditions = TestConditions.UNKNOWN.toBuilder().cue(Cue.EXPLOSIVE).build();
        assertEquals(List.of(), judge(hill));
        InventedWindow brief = window(t -> t < 0 ? 0 : 300 * Math.max(0, 1 - Math.abs(t - 0.4) / 0.4));
        brief.releaseS = 0.4;
        assertFalse(judge(brief).contains(ContractionFlag.NO_PLATEAU), "nobody said that it was to be held");
    }

    @Test
    void shouldSeeASpikeOverTheTenth() {
        for (double atS : new double[] {1.3, 2, 3.3}) {
            InventedWindow over = window(t -> held(t, 3.5) + (Math.abs(t - atS) < 0.04 ? 36 : 0));
            assertEquals(List.of(ContractionFlag.JERK), judge(over), "12 % at " + atS);
            InventedWindow under = window(t -> held(t, 3.5) + (Math.abs(t - atS) < 0.04 ? 24 : 0));
            assertEquals(List.of(), judge(under), "8 % at " + atS);
        }
    }

    /** A lowering of 3 s that breaks at 400 N, falls to 20 % of it within 0.3 s, and is caught 0.4 s after the break. */
    private static double lowered(double t, double spikeN) {
        double force = t < 0 ? 0 : t < 3 ? 400 * t / 3 : Math.max(80, 400 - 320 * (t - 3) / 0.3);
        double s = (t - 3.4) / 0.08;
        double impact = s > 0 && s < 1 ? spikeN * Math.pow(Math.sin(Math.PI * s), 2) : 0;
        return t < 4 ? force + impact : Math.max(0, 80 - 400 * (t - 4));
    }

    private static InventedWindow lowering(double spikeN, ContractionFlag... found) {
        InventedWindow w = InventedWindow.of(1000, 4.2, t -> lowered(t, spikeN));
        w.conditions = TestConditions.UNKNOWN.toBuilder()
                .effortType(TestConditions.EffortType.ECCENTRIC)
                .build();
        w.flags = Set.of(found);
        return w;
    }

    private static List<ContractionFlag> refuted(InventedWindow w) {
        return QualityChecks.refuted(w, MetricRegistry.standard().compute(w));
    }

    @Test
    void shouldSeeTheCatchOfADeclaredLoweringAndNoSecondEffortInIt() {
        assertEquals(List.of(), judge(lowering(0)), "a fall to a lower level is no impact");
        assertEquals(List.of(), judge(lowering(8)));
        InventedWindow caught = lowering(150, ContractionFlag.DOUBLE_EFFORT);
        assertEquals(List.of(ContractionFlag.CATCH_SPIKE), judge(caught), "no jerk: there is no plateau");
        assertEquals(List.of(ContractionFlag.DOUBLE_EFFORT), refuted(caught));
        assertEquals(List.of(), refuted(lowering(150)), "nothing was said that is not so");
        caught.conditions = TestConditions.UNKNOWN;
        assertFalse(judge(caught).contains(ContractionFlag.CATCH_SPIKE), "nobody said that it was a lowering");
        assertEquals(List.of(), refuted(caught));
    }

    /** After the break the person takes hold again: half a second of force is a second effort, whatever comes with it. */
    @Test
    void shouldLeaveASecondEffortOfALoweringAlone() {
        InventedWindow w = InventedWindow.of(
                1000, 5, t -> lowered(t, 150) + (t > 3.7 && t < 4.7 ? 250 * Math.sin(Math.PI * (t - 3.7)) : 0));
        w.conditions = lowering(0).conditions;
        w.flags = Set.of(ContractionFlag.DOUBLE_EFFORT);
        assertEquals(List.of(ContractionFlag.CATCH_SPIKE), judge(w));
        assertEquals(List.of(), refuted(w));
    }

    @Test
    void shouldNotTakeNoiseOfAWeakHoldForASpike() {
        Random random = new Random(5);
        InventedWindow w = window(t -> held(t, 3.5) / 20 + 2 * random.nextGaussian());
        w.restingNoiseN = 2;
        assertFalse(judge(w).contains(ContractionFlag.JERK));
    }

    @Test
    void shouldSeeAReleaseBeforeThePlansHoldIsOver() {
        InventedWindow w = window(t -> held(t, 3.5));
        w.conditions = TestConditions.UNKNOWN.toBuilder().holdS(3).build();
        assertEquals(List.of(ContractionFlag.EARLY_RELEASE), judge(w), "2.6 s of 3");
        w.conditions = TestConditions.UNKNOWN.toBuilder().holdS(2.8).build();
        assertEquals(List.of(), judge(w), "2.6 s of 2.8");
    }

    @Test
    void shouldSeeARateThatIsTooLowForWhatIsAsked() {
        InventedWindow fast = InventedWindow.of(500, 1, t -> t < 0 ? 0 : 400 * (1 - Math.exp(-t / 0.1)));
        assertEquals(List.of(ContractionFlag.RATE_TOO_LOW), judge(fast));
        InventedWindow slow = InventedWindow.of(500, 4, t -> held(t, 4) / 2);
        assertEquals(List.of(), judge(slow));
        slow.conditions = TestConditions.UNKNOWN.toBuilder().cue(Cue.EXPLOSIVE).build();
        assertEquals(List.of(ContractionFlag.RATE_TOO_LOW), judge(slow));
        InventedWindow enough = InventedWindow.of(1000, 1, t -> t < 0 ? 0 : 400 * (1 - Math.exp(-t / 0.1)));
        assertEquals(List.of(), judge(enough));
    }

    @Test
    void shouldSeeLoadBeyondTheCalibrationAndAClockAdrift() {
        InventedWindow w = window(t -> held(t, 3.5));
        w.cell = new CellCalibration(290, 0, 0, "", List.of());
        w.timeU = 12e6;
        assertEquals(List.of(ContractionFlag.ALIGNMENT_UNCERTAIN, ContractionFlag.BEYOND_RANGE), judge(w));
        w.cell = new CellCalibration(310, 0, 0, "", List.of());
        w.timeU = 8e6;
        assertEquals(List.of(), judge(w));
    }

    @Test
    void shouldSeeADipOfAHundredthOfThePeak() {
        Random random = new Random(8);
        InventedWindow w = InventedWindow.of(
                1000, 1, t -> 0.3 * random.nextGaussian() + (t < 0 ? dip(t, 4) : 400 * (1 - Math.exp(-t / 0.1))));
        assertTrue(judge(w).contains(ContractionFlag.COUNTERMOVEMENT));
        InventedWindow sound = InventedWindow.of(
                1000, 1, t -> 0.3 * random.nextGaussian() + (t < 0 ? dip(t, 0.4) : 400 * (1 - Math.exp(-t / 0.1))));
        assertEquals(List.of(), judge(sound));
    }

    /** Half a second before the window's onset nothing, then a dip of 0.2 s. */
    private static double dip(double t, double depthN) {
        return t < -0.2 ? 0 : -depthN * (1 - Math.cos(2 * Math.PI * (t + 0.2) / 0.2)) / 2;
    }

    @Test
    void shouldSayThatRatesStandWithoutAPlan() {
        InventedWindow w = window(t -> held(t, 3.5));
        List<MetricValue> rate = List.of(MetricValue.of("rfd.0-100ms", 2500, 30, "N/s"));
        assertEquals(List.of(ContractionFlag.CONDITIONS_UNKNOWN), QualityChecks.judge(w, rate));
        List<MetricValue> none = List.of(MetricValue.notComputed("rfd.0-100ms", "why"));
        assertEquals(List.of(), QualityChecks.judge(w, none));
        w.conditions = TestConditions.UNKNOWN.toBuilder().cue(Cue.EXPLOSIVE).build();
        assertFalse(QualityChecks.judge(w, rate).contains(ContractionFlag.CONDITIONS_UNKNOWN));
    }

    @Test
    void shouldLeaveOutWhatIsMissing() {
        InventedWindow torn =
                window(t -> held(t, 3.5) + (Math.abs(t - 2) < 0.04 ? 36 : 0)).without(1.9, 2.1);
        torn.releaseS = 3.5;
        assertEquals(List.of(), judge(torn), "the spike was not seen");
        InventedWindow nothing = InventedWindow.of(80, 0, t -> 0);
        assertEquals(List.of(), judge(nothing));
    }

    @Test
    void shouldHaveARuleForEveryCheckOnTheSamePage() {
        for (ContractionFlag flag : List.of(ContractionFlag.NO_PLATEAU, ContractionFlag.TRIAL_SPREAD)) {
            assertFalse(QualityChecks.rule(flag).isEmpty(), flag.id());
        }
    }

    @Test
    void shouldCompareTheBestTwo() {
        assertEquals(100 * 40 / 400.0, TrialSpread.percent(List.of(350.0, 400.0, 360.0)), 1e-12);
        assertTrue(TrialSpread.wide(List.of(350.0, 400.0)));
        assertFalse(TrialSpread.wide(List.of(361.0, 400.0)));
        assertFalse(TrialSpread.wide(List.of(400.0)), "one trial has no spread");
        TrialSpread session = new TrialSpread();
        assertFalse(session.next(1, 200));
        assertFalse(session.next(2, 300), "warming up");
        assertFalse(session.next(3, 400));
        assertFalse(session.next(4, 350), "two near the best so far");
        assertTrue(session.next(5, 355), "the third is still 11 % below");
        assertFalse(session.next(6, 390));
    }

    @Test
    void shouldJudgeAContractionAgainWhoseBoundariesWereMoved() {
        TrialSpread session = new TrialSpread();
        assertFalse(session.next(1, 400));
        assertFalse(session.next(2, 395));
        assertTrue(session.next(3, 480), "a jerk");
        assertFalse(session.again(3, 402), "left out by hand");
        assertFalse(session.next(4, 401), "what comes is judged by what is in force");
        assertTrue(session.again(3, 480), "taken back");
        assertTrue(session.next(5, 401), "the jerk is in force again");
        assertFalse(session.again(3, Double.NaN), "no peak at all");
        assertFalse(session.next(6, 399));
        assertFalse(session.again(99, 1000), "never seen");
        assertFalse(session.next(7, 398));
    }

    /** The best of contractions that are no longer kept decide all the same. */
    @Test
    void shouldRememberTheBestOfALongSession() {
        TrialSpread session = new TrialSpread();
        session.next(1, 480);
        for (int id = 2; id <= 1500; id++) {
            assertEquals(id >= 3, session.next(id, 400), "contraction " + id);
        }
        assertTrue(session.again(1400, 401));
        assertFalse(session.again(1, 400), "too long ago to be changed");
        assertTrue(session.next(1501, 402));
    }

    /** Sets of three with a trial SD of 5 %: a limit of 5 % would warn of a third of them, that of 10 % of few. */
    @Test
    void shouldWarnOfFewGoodSetsOfThree() {
        Random random = new Random(11);
        int atTen = 0;
        int atFive = 0;
        int sets = 20_000;
        for (int i = 0; i < sets; i++) {
            List<Double> set = new ArrayList<>();
            for (int k = 0; k < 3; k++) {
                set.add(400 * (1 + 0.05 * random.nextGaussian()));
            }
            atTen += TrialSpread.wide(set) ? 1 : 0;
            atFive += TrialSpread.percent(set) > 5 ? 1 : 0;
        }
        System.out.printf(
                "sets of three at 5 %%: warned %.1f %% at 10 %%, %.1f %% at 5 %%%n",
                100.0 * atTen / sets, 100.0 * atFive / sets);
        assertTrue(atTen <= 0.055 * sets, "warned of " + atTen);
        assertTrue(atFive >= 0.25 * sets, "warned of " + atFive);
    }
}

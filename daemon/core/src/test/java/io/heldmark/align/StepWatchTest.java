package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumMap;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The verdicts on single frames, in nanoseconds made up by hand; how well steps are found in whole streams is in {@link ClockStepTest}. */
class StepWatchTest {
    private static final double PERIOD_NS = 10e6;
    private static final double BOUND_NS = 100e6;

    private final StepWatch watch = new StepWatch();
    /** Device time of the next frame; the estimate is that frames arrive at their device time. */
    private double x;

    private double arrivalNs;

    @BeforeEach
    void beginWithARegularStream() {
        for (int i = 0; i < 20; i++) {
            assertEquals(StepWatch.Verdict.NORMAL, next(0));
        }
    }

    /** Judges the frame after the last, whose clock is ahead of the estimate (behind, if negative) by so much. */
    private StepWatch.Verdict next(double aheadNs) {
        x += PERIOD_NS;
        arrivalNs += PERIOD_NS;
        double told = x + aheadNs;
        return watch.judge(told, arrivalNs, arrivalNs - told, BOUND_NS);
    }

    @ParameterizedTest
    @ValueSource(doubles = {150e6, -150e6, 3600e9, -3600e9})
    void shouldConfirmAStepByFramesThatAgreeWithTheFirst(double stepNs) {
        assertEquals(StepWatch.Verdict.SUSPECT, next(stepNs));
        for (int i = 2; i < StepWatch.CONFIRM; i++) {
            assertEquals(StepWatch.Verdict.STILL_SUSPECT, next(stepNs));
        }

        assertEquals(StepWatch.Verdict.STEPPED, next(stepNs));
        assertEquals(-stepNs, watch.suspectZ(), 1e-3);
    }

    @ParameterizedTest
    @ValueSource(doubles = {90e6, -90e6})
    void shouldLeaveToTheLinkWhatIsWithinTheBound(double stepNs) {
        for (int i = 0; i < 3 * StepWatch.CONFIRM; i++) {
            assertEquals(StepWatch.Verdict.NORMAL, next(stepNs));
        }
    }

    @Test
    void shouldForgiveOneDamagedFrame() {
        assertEquals(StepWatch.Verdict.SUSPECT, next(150e6));

        assertEquals(StepWatch.Verdict.RESUMED, next(0));
        assertEquals(StepWatch.Verdict.NORMAL, next(0));
    }

    @Test
    void shouldBeginAgainWithASuspectThatDisagreesWithTheFirst() {
        next(150e6);
        next(150e6);

        assertEquals(StepWatch.Verdict.SUSPECT, next(400e6));
        for (int i = 2; i < StepWatch.CONFIRM; i++) {
            assertEquals(StepWatch.Verdict.STILL_SUSPECT, next(400e6));
        }
        assertEquals(StepWatch.Verdict.STEPPED, next(400e6));
    }

    @Test
    void shouldKeepTheSmallestDelayOfTheSuspects() {
        next(-150e6);
        next(-140e6);
        next(-170e6);

        assertEquals(140e6, watch.suspectZ(), 1e-3);
    }

    @Test
    void shouldNotTakeAStalledLinkForAStep() {
        arrivalNs += 2e9; // nothing came for two seconds: then everything at once, in the order of its ticks
        for (int i = 0; i < 200; i++) {
            x += PERIOD_NS;
            assertEquals(StepWatch.Verdict.NORMAL, watch.judge(x, arrivalNs, arrivalNs - x, BOUND_NS));
        }
        arrivalNs = x;
        assertEquals(StepWatch.Verdict.NORMAL, next(0));
    }

    @Test
    void shouldGiveUpAnEstimateThatEveryFrameIsLateFor() {
        double lateNs = 0;
        int frames = 0;
        StepWatch.Verdict verdict = StepWatch.Verdict.NORMAL;
        while (verdict == StepWatch.Verdict.NORMAL) {
            lateNs = Math.min(300e6, lateNs + 50e6); // ticks stay in order: no step, but ever later
            verdict = next(-lateNs);
            frames++;
        }

        assertEquals(StepWatch.Verdict.STEPPED, verdict);
        assertEquals((int) (StepWatch.LATE_NS / PERIOD_NS), frames, 5);
        assertEquals(150e6, watch.suspectZ(), 1e-3);
    }

    @Test
    void shouldCountLatenessAnewAfterAFrameOnTime() {
        for (int i = 0; i < 400; i++) {
            assertEquals(StepWatch.Verdict.NORMAL, next(-Math.min(300e6, 60e6 * i)));
        }
        next(0);

        assertEquals(StepWatch.Verdict.NORMAL, next(0));
        for (int i = 0; i < 400; i++) {
            assertEquals(StepWatch.Verdict.NORMAL, next(-Math.min(300e6, 60e6 * i)));
        }
    }

    @Test
    void shouldForgetSuspectsAndOrderWhenCleared() {
        next(150e6);
        next(150e6);
        watch.clear();

        x -= 3600e9; // Another clock: nothing before it to compare with.
        assertEquals(StepWatch.Verdict.NORMAL, next(0));
    }

    @Test
    void shouldJudgeTheSameWhetherAgreementIsSeenBeforeOrNot() {
        SplittableRandom random = new SplittableRandom(6_800_000L);
        Map<StepWatch.Verdict, Integer> verdicts = new EnumMap<>(StepWatch.Verdict.class);
        for (int run = 0; run < 200; run++) {
            StepWatch judging = new StepWatch();
            StepWatch seeing = new StepWatch();
            double deviceX = 0;
            double offNs = 0;
            double lateNs = 0;
            for (int i = 0; i < 1000; i++) {
                deviceX += PERIOD_NS;
                offNs = random.nextInt(100) == 0 ? (random.nextDouble() - 0.5) * 800e6 : offNs;
                lateNs = random.nextInt(300) == 0 ? 300e6 * random.nextInt(2) : lateNs;
                double damagedNs = random.nextInt(50) == 0 ? (random.nextDouble() - 0.5) * 2000e6 : 0;
                double residualNs = offNs + lateNs - damagedNs;
                double arrivesNs = deviceX + lateNs;
                StepWatch.Verdict verdict = judging.judge(deviceX + damagedNs, arrivesNs, residualNs, BOUND_NS);
                boolean taken = Math.abs(residualNs) <= BOUND_NS && seeing.takeAgreeing(deviceX + damagedNs, arrivesNs);
                assertEquals(
                        verdict,
                        taken
                                ? StepWatch.Verdict.NORMAL
                                : seeing.judge(deviceX + damagedNs, arrivesNs, residualNs, BOUND_NS));
                verdicts.merge(verdict, 1, Integer::sum);
            }
        }
        for (StepWatch.Verdict verdict : StepWatch.Verdict.values()) {
            assertTrue(verdicts.getOrDefault(verdict, 0) > 20, "of all kinds: " + verdicts);
        }
    }
}

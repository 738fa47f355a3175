package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.heldmark.model.Limb;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.Fixation;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TrialConditions;
import org.junit.jupiter.api.Test;

class TrialLogTest {
    private static final TrialConditions SILENT = TrialConditions.always(TestConditions.UNKNOWN);

    private final TrialLog log = new TrialLog();

    private static TestConditions.Builder said() {
        return TestConditions.UNKNOWN.toBuilder();
    }

    private static SaidConditions both(TestConditions conditions) {
        return new SaidConditions(conditions, TestConditions.UNKNOWN, TestConditions.UNKNOWN);
    }

    @Test
    void shouldSayNothingByItself() {
        assertEquals(TestConditions.UNKNOWN, log.of(Limb.LEFT, SILENT).at(5));
        assertEquals(SaidConditions.NONE, log.said());
        assertNull(log.target());
    }

    @Test
    void shouldHoldFromTheTrialOnThatBeginsAfterwards() {
        TestConditions explosive = said().cue(Cue.EXPLOSIVE).build();
        TrialConditions left = log.of(Limb.LEFT, SILENT);
        log.onSaid(both(explosive), 100);
        log.onSaid(SaidConditions.NONE, 200);
        assertEquals(TestConditions.UNKNOWN, left.at(99));
        assertEquals(explosive, left.at(100));
        assertEquals(explosive, left.at(199));
        assertEquals(TestConditions.UNKNOWN, left.at(200));
    }

    @Test
    void shouldLetALimbGoBeforeBothAndWhatWasSaidBeforehandBeforeAll() {
        TestConditions all =
                said().fixation(Fixation.BELT).ownMaximumN(500).holdS(3).build();
        TestConditions ofLeft = said().ownMaximumN(400).build();
        log.onSaid(new SaidConditions(all, ofLeft, TestConditions.UNKNOWN), 0);
        TrialConditions beforehand =
                TrialConditions.always(said().fixation(Fixation.RIGID).build());
        TestConditions left = log.of(Limb.LEFT, beforehand).at(1);
        assertEquals(said().fixation(Fixation.RIGID).ownMaximumN(400).holdS(3).build(), left);
        assertEquals(500, log.of(Limb.RIGHT, SILENT).at(1).ownMaximumN());
        assertEquals(500, log.of(Limb.NONE, SILENT).at(1).ownMaximumN());
    }

    /** A mass with the uncertainty of another one would be neither. */
    @Test
    void shouldKeepTogetherWhatBelongsTogether() {
        TestConditions one =
                said().bodyMassKg(70, Double.NaN).gravity(Gravity.NONE).build();
        TestConditions other = said().bodyMassKg(80, 0.5)
                .gravity(Gravity.ADD, 12, 1)
                .leverArmM(0.3, 0.01)
                .angleDeg(60, 2)
                .build();
        TestConditions merged = one.orElse(other);
        assertEquals(
                said().bodyMassKg(70, Double.NaN)
                        .gravity(Gravity.NONE)
                        .leverArmM(0.3, 0.01)
                        .angleDeg(60, 2)
                        .build(),
                merged);
        assertEquals(other, TestConditions.UNKNOWN.orElse(other));
        assertEquals(other, other.orElse(TestConditions.UNKNOWN));
    }

    @Test
    void shouldTakeAShownTargetForAForceToHoldUnlessAnotherIsSaid() {
        TrialConditions left = log.of(Limb.LEFT, SILENT);
        log.onTarget(new Target(200, 10), 10);
        assertEquals(200, left.at(10).targetForceN());
        assertEquals(Double.NaN, left.at(9).targetForceN());
        log.onSaid(both(said().targetForceN(150).build()), 20);
        assertEquals(150, left.at(20).targetForceN());
        log.onSaid(SaidConditions.NONE, 30);
        assertEquals(200, left.at(30).targetForceN(), "the band is still there");
        log.onTarget(null, 40);
        assertEquals(Double.NaN, left.at(40).targetForceN());
        log.onTarget(new Target(-50, 10), 50);
        assertEquals(Double.NaN, left.at(50).targetForceN(), "a push the other way is nothing to hold");
    }

    @Test
    void shouldKeepTheNewestOfVeryManyChanges() {
        for (int i = 1; i <= 1000; i++) {
            log.onTarget(new Target(i, 10), i);
        }
        TrialConditions left = log.of(Limb.LEFT, SILENT);
        assertEquals(1000, left.at(5000).targetForceN());
        assertEquals(900, left.at(900).targetForceN());
        assertEquals(745, left.at(3).targetForceN(), "the oldest that is kept");
    }
}

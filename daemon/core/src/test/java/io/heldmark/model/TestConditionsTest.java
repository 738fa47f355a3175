package io.heldmark.model;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.TestConditions.Fixation;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TestConditions.Zeroing;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;

class TestConditionsTest {
    @Test
    void shouldKnowNothingAtFirst() {
        TestConditions unknown = TestConditions.UNKNOWN;
        assertEquals(Cue.UNKNOWN, unknown.cue());
        assertEquals(Gravity.UNKNOWN, unknown.gravity());
        assertTrue(Double.isNaN(unknown.leverArmM()));
        assertTrue(Double.isNaN(unknown.bodyMassKg()));
        assertEquals(unknown, unknown.toBuilder().build());
    }

    @Test
    void shouldKeepEveryPartWhenBuiltAnew() {
        TestConditions all = TestConditions.UNKNOWN.toBuilder()
                .cue(Cue.EXPLOSIVE)
                .fixation(Fixation.RIGID)
                .contact(Contact.CUFF)
                .effortType(EffortType.ISOMETRIC)
                .zeroing(Zeroing.UNLOADED)
                .ownMaximumN(400)
                .targetForceN(200)
                .leverArmM(0.365, 0.005)
                .bodyMassKg(78, 0.1)
                .gravity(Gravity.SUBTRACT, 10.53, 0.5)
                .pullAngleLimitDeg(10)
                .angleDeg(30, 2)
                .holdS(3)
                .build();
        assertEquals(all, all.toBuilder().build());
        assertEquals(
                new TestConditions(
                        Cue.EXPLOSIVE,
                        Fixation.RIGID,
                        Contact.CUFF,
                        EffortType.ISOMETRIC,
                        Zeroing.UNLOADED,
                        400,
                        200,
                        0.365,
                        0.005,
                        78,
                        0.1,
                        Gravity.SUBTRACT,
                        10.53,
                        0.5,
                        10,
                        30,
                        2,
                        3),
                all);
    }

    @Test
    void shouldRefuseWhatCannotBe() {
        refuse("leverArmM", b -> b.leverArmM(0, 0));
        refuse("leverArmStandardUncertaintyM", b -> b.leverArmM(0.3, -1));
        refuse("bodyMassKg", b -> b.bodyMassKg(Double.POSITIVE_INFINITY, 0));
        refuse("bodyMassStandardUncertaintyKg", b -> b.bodyMassKg(70, -0.1));
        refuse("ownMaximumN", b -> b.ownMaximumN(-5));
        refuse("targetForceN", b -> b.targetForceN(0));
        refuse("holdS", b -> b.holdS(0));
        refuse("gravityTorqueNm", b -> b.gravity(Gravity.ADD, -1, 0));
        refuse("gravityTorqueStandardUncertaintyNm", b -> b.gravity(Gravity.ADD, 1, -1));
        refuse("pullAngleLimitDeg", b -> b.pullAngleLimitDeg(61));
        refuse("pullAngleLimitDeg", b -> b.pullAngleLimitDeg(-1));
        refuse("angleDeg", b -> b.angleDeg(400, 1));
        refuse("angleStandardUncertaintyDeg", b -> b.angleDeg(40, -1));
    }

    private static void refuse(String name, UnaryOperator<TestConditions.Builder> change) {
        TestConditions.Builder builder = change.apply(TestConditions.UNKNOWN.toBuilder());
        String message =
                assertThrows(IllegalArgumentException.class, builder::build).getMessage();
        assertTrue(message.startsWith(name + " must be"), message);
    }
}

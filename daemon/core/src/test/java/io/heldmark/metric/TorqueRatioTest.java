package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.heldmark.metric.JointTorque.Action;
import io.heldmark.metric.JointTorque.Origin;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.List;
import org.junit.jupiter.api.Test;

class TorqueRatioTest {
    private static final TestConditions TREATED = TestConditions.UNKNOWN.toBuilder()
            .contact(Contact.CUFF)
            .gravity(Gravity.SUBTRACT, 10.53, 0.5)
            .build();

    private static TestConditions at(double angleDeg) {
        return TREATED.toBuilder().angleDeg(angleDeg, 2).build();
    }

    private static TestConditions exactly(double angleDeg) {
        return TREATED.toBuilder().angleDeg(angleDeg, 0).build();
    }

    private static MetricValue torque(double nm, double calibration, double lever) {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, calibration)
                .add(UncertaintySource.LEVER_ARM, lever)
                .build();
        return MetricValue.of("torque.peak", nm, budget, "N·m");
    }

    private static JointTorque isometric(String muscle, MetricValue torque, TestConditions conditions) {
        return new JointTorque(
                torque,
                Limb.LEFT,
                muscle,
                conditions,
                "sitting",
                "seated, cuff above the ankle",
                Action.ISOMETRIC,
                0,
                Origin.STATION,
                "cell 1");
    }

    private static JointTorque isokinetic(String muscle, double nm, Action action, double speed, Origin origin) {
        return new JointTorque(
                torque(nm, 1, 1), Limb.LEFT, muscle, at(40), "sitting", "chair", action, speed, origin, "");
    }

    private static String reason(JointTorque a, JointTorque b) {
        return TorqueRatio.of(a, b).value().notComputed();
    }

    /** 138.7 N·m with u = 2.35 over 210 N·m with u = 4.2: 0.6605 with u = 0.0173 (worked by hand, GUM 5.1.6). */
    @Test
    void shouldGiveTheRatioOfTheWorkedExample() {
        JointTorque flexor = isometric("flexor", torque(138.7, 0, 2.35), exactly(30));
        JointTorque extensor = isometric("extensor", torque(210, 0, 4.2), exactly(60));
        TorqueRatio ratio = TorqueRatio.of(flexor, extensor);
        assertEquals(0.66047619, ratio.value().quantity().value(), 5e-9);
        assertEquals(0.017312374, ratio.value().quantity().standardUncertainty(), 5e-9);
        assertEquals("isometric torque ratio, 30° flexor / 60° extensor, hip sitting", ratio.title());
    }

    @Test
    void shouldCancelTheCalibrationOfOneCell() {
        JointTorque flexor = isometric("flexor", torque(100, 2, 1), exactly(30));
        JointTorque extensor = isometric("extensor", torque(200, 4, 2), exactly(60));
        double same = TorqueRatio.of(flexor, extensor).value().quantity().standardUncertainty();
        assertEquals(0.5 * Math.sqrt(2) * 0.01, same, 1e-12);
        JointTorque other = new JointTorque(
                extensor.torque(),
                Limb.LEFT,
                "extensor",
                exactly(60),
                "sitting",
                "chair",
                Action.ISOMETRIC,
                0,
                Origin.STATION,
                "cell 2");
        double apart = TorqueRatio.of(flexor, other).value().quantity().standardUncertainty();
        assertEquals(0.5 * Math.sqrt(2 * 0.0001 + 2 * 0.0004), apart, 1e-12);
    }

    /** Flexor: 0.5 % and 2 degrees of its own slope; extensor: 1 degree, no other angle, 1 % per degree. Worked by hand. */
    @Test
    void shouldHoldTheSettingOfTheAngles() {
        JointTorque flexor = isometric("flexor", torque(100, 0, 0.5), at(30));
        JointTorque other = isometric("flexor", torque(76, 0, 0.5), at(60));
        TestConditions oneDegree = TREATED.toBuilder().angleDeg(60, 1).build();
        JointTorque extensor = isometric("extensor", torque(200, 0, 1), oneDegree);
        double slope = AngleTorqueProfile.relativeSlopePerDeg(flexor, List.of(other, flexor));
        assertEquals(0.008, slope, 1e-15);
        UncertaintyBudget budget =
                TorqueRatio.of(flexor, extensor, slope, Double.NaN).value().budget();
        assertNotNull(budget);
        assertEquals(0.5 * Math.hypot(2 * 0.008, 0.01), budget.of(UncertaintySource.ANGLE_SETTING), 1e-15);
        assertEquals(0.5 * Math.hypot(0.005, 0.005), budget.of(UncertaintySource.LEVER_ARM), 1e-15);
        assertEquals(
                0.5 * Math.hypot(2 * 0.01, 0.01),
                TorqueRatio.of(flexor, extensor).value().budget().of(UncertaintySource.ANGLE_SETTING),
                1e-15);
        assertEquals(Double.NaN, AngleTorqueProfile.relativeSlopePerDeg(flexor, List.of(flexor)));
        assertEquals(Double.NaN, AngleTorqueProfile.relativeSlopePerDeg(extensor, List.of(other, flexor)));
    }

    @Test
    void shouldRefuseATorqueWithTheWeightLeftIn() {
        TestConditions leftIn = at(60).toBuilder().gravity(Gravity.NONE).build();
        JointTorque flexor = isometric("flexor", torque(100, 1, 1), at(30));
        JointTorque extensor = isometric("extensor", torque(200, 1, 1), leftIn);
        assertEquals(
                "extensor: the limb's weight was left in it (gravity none); say removedByZero, or add or subtract with its"
                        + " torque, 0 where it does not act along the pull",
                reason(flexor, extensor));
        assertEquals(reason(flexor, extensor), reason(extensor, flexor));
        TestConditions across = at(60).toBuilder().gravity(Gravity.ADD, 0, 0).build();
        assertNull(reason(flexor, isometric("extensor", torque(200, 1, 1), across)));
        TestConditions leftInToo = at(30).toBuilder().gravity(Gravity.NONE).build();
        assertNull(
                AngleTorqueProfile.of(List.of(extensor, isometric("extensor", torque(180, 1, 1), leftInToo)))
                        .refused(),
                "the same treatment, which is what a profile asks for");
    }

    @Test
    void shouldRefuseWhatTheRulesRefuse() {
        JointTorque flexor = isometric("flexor", torque(100, 1, 1), at(30));
        assertEquals(
                "extensor: a force is not a torque",
                reason(flexor, isometric("extensor", MetricValue.of("force.peak", 300, 1, "N"), at(60))));
        assertEquals(
                "extensor: why", reason(flexor, isometric("extensor", MetricValue.notComputed("t", "why"), at(60))));
        assertEquals(
                "extensor: the joint angle is not stated",
                reason(flexor, isometric("extensor", torque(200, 1, 1), TREATED)));
        TestConditions plate = at(60).toBuilder().contact(Contact.HEEL_PLATE).build();
        assertEquals(
                "extensor: a push of the heel against a plate mixes the moments of hip and knee",
                reason(flexor, isometric("extensor", torque(200, 1, 1), plate)));
        TestConditions untreated =
                TestConditions.UNKNOWN.toBuilder().angleDeg(60, 2).build();
        assertEquals(
                "extensor: nothing is said of the limb's weight",
                reason(flexor, isometric("extensor", torque(200, 1, 1), untreated)));
        assertEquals("both torques are of the flexor", reason(flexor, flexor));
        assertEquals(
                "a torque is not far enough above zero for a ratio",
                reason(flexor, isometric("extensor", torque(2, 1, 1), at(60))));
    }

    @Test
    void shouldCallFunctionalOnlyWhatIs() {
        JointTorque flexor = isokinetic("flexor", 165, Action.ECCENTRIC, 60, Origin.IMPORTED_ISOKINETIC);
        JointTorque extensor = isokinetic("extensor", 190, Action.CONCENTRIC, 60, Origin.IMPORTED_ISOKINETIC);
        TorqueRatio functional = TorqueRatio.of(flexor, extensor);
        assertEquals(0.868421053, functional.value().quantity().value(), 5e-10);
        assertEquals("functional torque ratio at 60°/s, 40° flexor / 40° extensor, hip sitting", functional.title());
        JointTorque lower = isokinetic("flexor", 165, Action.ECCENTRIC, 20, Origin.STATION);
        assertEquals(
                "flexor: torque while the joint moves needs imported isokinetic data; a kneeling lower is not that",
                reason(lower, extensor));
        JointTorque faster = isokinetic("extensor", 190, Action.CONCENTRIC, 180, Origin.IMPORTED_ISOKINETIC);
        assertEquals("the speeds differ", reason(flexor, faster));
        JointTorque still = isokinetic("flexor", 120, Action.ISOMETRIC, 0, Origin.IMPORTED_ISOKINETIC);
        assertEquals("the contractions differ: isometric over concentric", reason(still, extensor));
        JointTorque unsaid = isokinetic("flexor", 120, Action.CONCENTRIC, Double.NaN, Origin.IMPORTED_ISOKINETIC);
        assertEquals("flexor: contraction and speed are not stated", reason(unsaid, extensor));
    }

    @Test
    void shouldMakeAProfileOfLikeTests() {
        AngleTorqueProfile profile = AngleTorqueProfile.of(List.of(
                isometric("flexor", torque(110, 1, 1), at(60)),
                isometric("flexor", torque(90, 1, 1), at(90)),
                isometric("flexor", torque(120, 1, 1), at(30))));
        assertNull(profile.refused());
        assertEquals(
                List.of(30.0, 60.0, 90.0),
                profile.points().stream()
                        .map(AngleTorqueProfile.Point::angleDeg)
                        .toList());
        assertEquals(30, profile.highest().angleDeg());
        UncertaintyBudget middle = profile.points().get(1).torque().budget();
        assertNotNull(middle);
        // 20 N·m over 30 degrees is the steeper side; 2 degrees of setting.
        assertEquals(2 * 20 / 30.0, middle.of(UncertaintySource.ANGLE_SETTING), 1e-12);
    }

    @Test
    void shouldRefuseAProfileOfUnlikeTests() {
        JointTorque one = isometric("flexor", torque(110, 1, 1), at(60));
        assertEquals(
                "a profile needs torques at two angles at least",
                AngleTorqueProfile.of(List.of(one)).refused());
        assertEquals(
                "two tests have the same angle",
                AngleTorqueProfile.of(List.of(one, one)).refused());
        JointTorque prone = new JointTorque(
                torque(100, 1, 1),
                Limb.LEFT,
                "flexor",
                at(30),
                "prone",
                "seated, cuff above the ankle",
                Action.ISOMETRIC,
                0,
                Origin.STATION,
                "");
        assertEquals(
                "the tests differ in the posture of the hip",
                AngleTorqueProfile.of(List.of(one, prone)).refused());
        TestConditions removed =
                at(30).toBuilder().gravity(Gravity.REMOVED_BY_ZERO).build();
        assertEquals(
                "the tests differ in the treatment of the limb's weight",
                AngleTorqueProfile.of(List.of(one, isometric("flexor", torque(100, 1, 1), removed)))
                        .refused());
        assertNull(AngleTorqueProfile.of(List.of(one, prone)).highest());
    }
}

package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.metric.JointTorque.Action;
import io.heldmark.metric.StatedTest.Mode;
import io.heldmark.metric.StatedTest.Movement;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Trials into tests: statistic, asymmetry by mode, ratios, profiles, refusals. Expected values are worked by hand. */
class TestBookTest {
    private static final long S = 1_000_000_000L;

    private long nextId = 1;

    private static ChannelInfo channel(Limb limb) {
        int number = limb == Limb.LEFT ? 0 : 1;
        return new ChannelInfo(
                number,
                "serial:x",
                "cell",
                number,
                "n",
                limb,
                1000,
                0,
                0,
                "N",
                "factory",
                0.002,
                0,
                CellCalibration.UNKNOWN);
    }

    private static MetricValue value(String id, double value, String unit) {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, 0.01 * value)
                .add(UncertaintySource.NOISE, 0.003 * value)
                .build();
        return MetricValue.of(id, value, budget, unit);
    }

    private static Contraction contraction(long id, Limb limb, double atS, double peakN, String... flags) {
        List<MetricValue> metrics = List.of(value(PeakForce.ID, peakN, "N"), value(PeakTorque.ID, 0.4 * peakN, "N·m"));
        long onset = Math.round(atS * S);
        return new Contraction(
                id,
                Revision.FINAL,
                limb == Limb.LEFT ? 0 : 1,
                limb,
                onset,
                1e6,
                onset + 2 * S,
                onset + 3 * S,
                0,
                List.of(flags),
                metrics);
    }

    private long add(TestBook book, Limb limb, double atS, double peakN, String... flags) {
        long id = nextId++;
        book.onContraction(contraction(id, limb, atS, peakN, flags), channel(limb), Math.round(atS * S));
        return id;
    }

    private void both(TestBook book, double atS, double leftN, double rightN) {
        long left = add(book, Limb.LEFT, atS, leftN);
        long right = add(book, Limb.RIGHT, atS, rightN);
        MetricValue index = new LogAsymmetry()
                .compute(value(PeakForce.ID, leftN, "N"), value(PeakForce.ID, rightN, "N"), CellPair.UNKNOWN);
        book.onEffort(new Effort(left, left, right, 0, 1e6, index, List.of()));
    }

    private static StatedTest test(String name, double fromS, double toS, Mode mode, String muscle, double angleDeg) {
        TestConditions conditions = TestConditions.UNKNOWN.toBuilder()
                .angleDeg(angleDeg, 2)
                .gravity(Gravity.REMOVED_BY_ZERO)
                .build();
        Movement movement = new Movement(muscle, Action.ISOMETRIC, Double.NaN, "sitting", "cuff");
        return new StatedTest(name, Math.round(fromS * S), Math.round(toS * S), mode, movement, conditions);
    }

    private static TestBook book(StatedTest... tests) {
        return new TestBook(List.of(tests), List.of(), Double.NaN);
    }

    @Test
    void shouldTakeTheMeanOfTheFirstThreeAcceptedTrials() {
        TestBook book = book(test("a", 0, 100, Mode.BILATERAL, "flexor", 30));
        add(book, Limb.LEFT, 1, 400);
        add(book, Limb.LEFT, 11, 900, "overload");
        add(book, Limb.LEFT, 21, 410, "jerk");
        add(book, Limb.LEFT, 31, 390);
        add(book, Limb.LEFT, 41, 500);
        add(book, Limb.LEFT, 150, 700);
        TestResult result = book.results().get(0);
        assertEquals(1, result.limbs().size());
        TestResult.OfLimb left = result.limbs().get(0);
        assertEquals(List.of(1L, 2L, 3L, 4L, 5L), left.contractionIds());
        assertEquals(List.of(1L, 3L, 4L), left.countedIds());
        assertEquals(400, left.force().quantity().value(), 1e-9);
        // Calibration is the same in all three and stays, noise shrinks with the root of three.
        assertEquals(4, left.force().budget().of(UncertaintySource.CALIBRATION), 1e-9);
        assertEquals(1.2 / Math.sqrt(3), left.force().budget().of(UncertaintySource.NOISE), 1e-3);
        assertEquals(160, left.torque().torque().quantity().value(), 1e-9);
        // Fatigue is of all accepted trials: the last is the highest.
        assertEquals("fatigue.set.last", left.set().get(0).id());
        assertEquals(
                "the last contraction is the strongest: there is no fall to state",
                left.set().get(0).notComputed());
        assertEquals("no repetition has an asymmetry", result.asymmetry().notComputed());
    }

    @Test
    void shouldAverageIndicesOfBothLimbsAtOnce() {
        TestBook book = book(test("a", 0, 100, Mode.BILATERAL, "flexor", 30));
        both(book, 1, 400, 380);
        both(book, 11, 390, 410);
        both(book, 21, 405, 395);
        both(book, 31, 800, 100);
        double expected = 100 * (Math.log(400 / 380.0) + Math.log(390 / 410.0) + Math.log(405 / 395.0)) / 3;
        assertEquals(expected, book.results().get(0).asymmetry().quantity().value(), 1e-9);
    }

    @Test
    void shouldCompareMeansOfLimbsTestedOneByOne() {
        TestBook book = book(test("a", 0, 100, Mode.UNILATERAL, "flexor", 30));
        for (int i = 0; i < 3; i++) {
            add(book, Limb.LEFT, 1 + 20 * i, 400 + 10 * (i - 1));
            add(book, Limb.RIGHT, 11 + 20 * i, 370 - 10 * (i - 1));
        }
        assertEquals(
                100 * Math.log(400 / 370.0),
                book.results().get(0).asymmetry().quantity().value(),
                1e-9);
        TestBook uneven = book(test("a", 0, 100, Mode.UNILATERAL, "flexor", 30));
        add(uneven, Limb.LEFT, 1, 400);
        assertEquals(
                "unequal numbers of trials: 1 left, 0 right",
                uneven.results().get(0).asymmetry().notComputed());
        both(uneven, 11, 400, 380);
        assertTrue(uneven.results().get(0).asymmetry().notComputed().startsWith("both limbs worked at once"));
    }

    @Test
    void shouldRefuseOneLoadPathAndWhatNobodySaid() {
        TestBook squeeze = book(test("a", 0, 100, Mode.ONE_LOAD_PATH, "", Double.NaN));
        both(squeeze, 1, 400, 400);
        assertTrue(squeeze.results().get(0).asymmetry().notComputed().contains("third law"));
        TestBook unsaid = book(test("a", 0, 100, Mode.UNKNOWN, "", Double.NaN));
        both(unsaid, 1, 400, 400);
        assertTrue(unsaid.results().get(0).asymmetry().notComputed().startsWith("nobody said"));
    }

    @Test
    void shouldLetTheLastStateOfAContractionCount() {
        TestBook book =
                book(test("a", 0, 10, Mode.BILATERAL, "flexor", 30), test("b", 10, 20, Mode.BILATERAL, "flexor", 60));
        long id = add(book, Limb.LEFT, 9.9, 400);
        book.onContraction(contraction(id, Limb.LEFT, 10.1, 420), channel(Limb.LEFT), Math.round(10.1 * S));
        assertEquals(
                420, book.results().get(0).limbs().get(0).force().quantity().value(), 1e-9);
        assertTrue(book.results().get(1).limbs().isEmpty(), "a boundary moved by hand takes no trial to another test");
    }

    @Test
    void shouldPutTorquesOverEachOtherAndOverTheAngle() {
        TestBook book = book(
                test("flexor 60", 0, 10, Mode.BILATERAL, "flexor", 60),
                test("flexor 30", 10, 20, Mode.BILATERAL, "flexor", 30),
                test("extensor 60", 20, 30, Mode.BILATERAL, "extensor", 60));
        both(book, 1, 200, 190);
        both(book, 11, 240, 230);
        both(book, 21, 400, 380);
        List<TestResult.OfTwo> ratios = book.ratio("flexor 30", "extensor 60");
        assertEquals(2, ratios.size());
        TestResult.OfTwo left = ratios.get(0);
        assertEquals(Limb.LEFT, left.limb());
        assertEquals(
                "isometric torque ratio, 30° flexor / 60° extensor, hip sitting",
                left.ratio().title());
        assertEquals(0.6, left.ratio().value().quantity().value(), 1e-12);
        // One cell: its calibration cancels. Noise of both is left, and the setting of both angles by 2 degrees: of the
        // flexor by
        // its own 40 N over 30 degrees, of the extensor, tested at one angle, by 1 % per degree.
        double flexor = 2 * 40 / 30.0 / 240;
        double extensor = 2 * 0.01;
        assertEquals(
                0.6 * Math.sqrt(2 * 0.003 * 0.003 + flexor * flexor + extensor * extensor),
                left.ratio().value().quantity().standardUncertainty(),
                1e-9);
        List<TestResult.OfAngles> profiles = book.profiles();
        assertEquals(2, profiles.size());
        assertEquals(
                List.of(30.0, 60.0),
                profiles.get(0).profile().points().stream()
                        .map(AngleTorqueProfile.Point::angleDeg)
                        .toList());
        // 96 and 80 N m over 30 degrees: 2 degrees of the setting are 1.07 N m.
        UncertaintyBudget budget =
                profiles.get(0).profile().points().get(0).torque().budget();
        assertEquals(2 * 16 / 30.0, budget.of(UncertaintySource.ANGLE_SETTING), 1e-9);
        assertTrue(assertThrows(IllegalArgumentException.class, () -> book.ratio("x", "extensor 60"))
                .getMessage()
                .contains("there are: extensor 60, flexor 30, flexor 60"));
    }

    @Test
    void shouldNeverPutAHeelPushOverATorque() {
        StatedTest flexor = test("flexor", 0, 10, Mode.BILATERAL, "flexor", 30);
        StatedTest heel = new StatedTest(
                "heel",
                10 * S,
                20 * S,
                Mode.BILATERAL,
                new Movement("extensor", Action.ISOMETRIC, Double.NaN, "sitting", "cuff"),
                flexor.conditions().toBuilder().contact(Contact.HEEL_PLATE).build());
        TestBook book = book(flexor, heel);
        both(book, 1, 200, 190);
        both(book, 11, 240, 230);
        assertTrue(book.ratio("flexor", "heel")
                .get(0)
                .ratio()
                .value()
                .notComputed()
                .contains("heel"));
    }
}

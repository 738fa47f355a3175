package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.UncertaintyTerm;
import io.heldmark.model.ZeroReference;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Device uncertainty against published worked examples, values worked by hand, and properties. */
class DeviceUncertaintyTest {
    private static ChannelInfo channel(double relativeU, double resolution, double ratedN, CellCalibration cell) {
        return new ChannelInfo(
                0, "l", "", 0, "c", Limb.LEFT, 1000, 0, ratedN, "N", "station", relativeU, resolution, cell);
    }

    /**
     * GUM (JCGM 100:2008) H.3, calibration of a thermometer by a straight line y1 + y2 (t - 20): u(y1) = 0.0029, u(y2) = 0.00067,
     * r = -0.93; correction at 30 degrees with u = 0.0041. More digits: least squares on its table H.6.
     */
    @Test
    void shouldGiveTheCorrectionOfGumH3() {
        double u1 = 0.002877597835;
        double u2 = 0.000667938773;
        double mixed = -0.930429603093 * u1 * u2;
        CellCalibration line = new CellCalibration(Double.NaN, 0, 0, "", List.of(u1 * u1, mixed, mixed, u2 * u2));
        double u = DeviceUncertainty.of(channel(Double.NaN, 0, 0, line), ZeroReference.NONE, 0)
                .ofMean(10, 0, 1);
        assertEquals(0.004138595753, u, 1e-11);
        assertEquals(0.0041, u, 5e-5);
    }

    /** GUM H.1.6, end-gauge calibration (figures from memory): 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2 degrees of freedom. */
    @Test
    void shouldGiveTheEffectiveDegreesOfFreedomOfGumH1() {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, 25, 18)
                .add(UncertaintySource.NOISE, 9.7, 25.6)
                .add(UncertaintySource.ZERO, 2.9, 50)
                .add(UncertaintySource.TIMING, 16.6, 2)
                .build();
        assertEquals(32, budget.standardUncertainty(), 0.5);
        assertEquals(16.7, budget.effectiveDegreesOfFreedom(), 0.1);
    }

    @Test
    void shouldGrowBeyondTheCalibratedRangeByTheStatedRule() {
        CellCalibration to400 = new CellCalibration(400, 0, 0, "", List.of());
        DeviceUncertainty u = DeviceUncertainty.of(channel(0.002, 0, 0, to400), ZeroReference.NONE, 0);
        assertFalse(u.beyondRange(400));
        assertTrue(u.beyondRange(612));
        UncertaintyBudget inside = u.mean(400, 1, 0);
        assertEquals(0.8, inside.standardUncertainty(), 1e-12);
        UncertaintyBudget outside = u.mean(612, 1, 0);
        assertEquals(1.224, outside.of(UncertaintySource.CALIBRATION), 1e-12);
        assertEquals(4 * 0.002 * 612 * 212 / 400, outside.of(UncertaintySource.BEYOND_RANGE), 1e-12);
        assertEquals(2.6, outside.of(UncertaintySource.BEYOND_RANGE), 0.01);
    }

    @Test
    void shouldCountTheLoadAndNotTheForceAgainstTheRange() {
        CellCalibration to400 = new CellCalibration(400, 0, 0, "", List.of());
        ZeroReference limb = ZeroReference.taken(60, 0, 0);
        DeviceUncertainty u = DeviceUncertainty.of(channel(0.002, 0, 0, to400), limb, 0);
        assertFalse(u.beyondRange(339));
        assertTrue(u.beyondRange(341), "the limb's weight lies on the cell too");
    }

    @Test
    void shouldTakeTheDriftLimitFromTheCellOrTheRatedLoad() {
        CellCalibration none = CellCalibration.UNKNOWN;
        assertEquals(0.5, DeviceUncertainty.driftLimitNPerHour(channel(0, 0, 0, none)));
        assertEquals(0.6, DeviceUncertainty.driftLimitNPerHour(channel(0, 0, 3000, none)), 1e-12);
        CellCalibration said = new CellCalibration(Double.NaN, 2, 0, "", List.of());
        assertEquals(2, DeviceUncertainty.driftLimitNPerHour(channel(0, 0, 3000, said)));
        double u = DeviceUncertainty.of(
                        channel(0, 0, 0, said), ZeroReference.taken(0, 0, 1_000_000_000L), 1_801_000_000_000L)
                .ofMean(0, 0, 1);
        assertEquals(2 * 0.5 / Math.sqrt(3), u, 1e-12);
        double before = DeviceUncertainty.of(channel(0, 0, 0, said), ZeroReference.NONE, 1_801_000_000_000L)
                .ofMean(0, 0, 1);
        assertEquals(0, before, "without a zero there is nothing to drift from");
    }

    @Test
    void shouldLeaveTheSlopeAloneOfALineThatBeginsAtTheZero() {
        List<Double> line = CellCalibration.lineCovariance(0.7, 0.002, -0.8);
        CellCalibration cell = new CellCalibration(Double.NaN, 0, 0, "", line);
        ChannelInfo c = channel(0.002, 0, 0, cell);
        double zeroed =
                DeviceUncertainty.of(c, ZeroReference.taken(55, 0, 0), 0).ofMean(300, 0, 1);
        assertEquals(0.6, zeroed, 1e-12);
        double bare = DeviceUncertainty.of(c, ZeroReference.NONE, 0).ofMean(300, 0, 1);
        assertEquals(Math.sqrt(0.49 - 2 * 0.8 * 0.7 * 0.6 + 0.36), bare, 1e-12);
    }

    @Test
    void shouldHaveNeitherZeroNorDriftInADifference() {
        InventedWindow w = InventedWindow.of(1000, 1, t -> 300);
        w.zeroU = 40;
        w.sinceZeroS = 7200;
        w.resolution = 0.6;
        w.relativeU = 0.01;
        UncertaintyBudget b = DeviceUncertainty.of(w).difference(Reading.at(300, 0), Reading.at(100, 0), 0);
        assertEquals(0, b.of(UncertaintySource.ZERO));
        assertEquals(0, b.of(UncertaintySource.DRIFT));
        assertEquals(Math.sqrt(4 + 2 * 0.36 / 12), b.standardUncertainty(), 1e-12);
    }

    @Test
    void shouldGiveTheTorqueOfTheWorkedExample() {
        // 380 N with 1 % at 0.365 m with 5 mm: u = sqrt((0.365 * 3.8)^2 + (380 * 0.005)^2) = 2.3524 N·m.
        UncertaintyBudget force = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, 3.8)
                .build();
        UncertaintyBudget torque = Propagation.torque(force, 380, 0.365, 0.005);
        assertEquals(2.352396438, torque.standardUncertainty(), 1e-9);
        UncertaintyTerm lever = torque.terms().get(1);
        assertEquals(UncertaintySource.LEVER_ARM, lever.source());
        assertEquals(1.9 * 1.9 / (2.352396438 * 2.352396438), torque.share(lever), 1e-9);
    }

    @Test
    void shouldKnowThePullThatIsTenDegreesOff() {
        PullMisalignment ten = new PullMisalignment(10);
        assertEquals(0.01519224699, ten.worst(), 1e-11);
        assertEquals(0.0050683, ten.mean(), 1e-6);
        assertEquals(0.0045, ten.standardDeviation(), 5e-5);
        assertEquals(0.0068, ten.rootMeanSquare(), 5e-5);
        // Series and closed form meet.
        assertEquals(
                new PullMisalignment(1.14591).rootMeanSquare(), new PullMisalignment(1.14593).rootMeanSquare(), 1e-8);
        assertThrows(IllegalArgumentException.class, () -> new PullMisalignment(90));
    }

    @Test
    void shouldSumSharesToOneAndMergeEqualSources() {
        UncertaintyBudget b = UncertaintyBudget.builder()
                .add(UncertaintySource.NOISE, 3, 10)
                .add(UncertaintySource.NOISE, -4, 10)
                .add(UncertaintySource.ZERO, 0)
                .add(UncertaintySource.CALIBRATION, 12)
                .build();
        assertEquals(2, b.terms().size());
        assertEquals(UncertaintySource.CALIBRATION, b.terms().get(0).source());
        assertEquals(5, b.of(UncertaintySource.NOISE), 1e-12);
        assertEquals(13, b.standardUncertainty(), 1e-12);
        assertEquals(1, b.terms().stream().mapToDouble(b::share).sum(), 1e-12);
        assertThrows(
                IllegalArgumentException.class,
                () -> UncertaintyBudget.builder().add(UncertaintySource.ZERO, Double.NaN));
        assertThrows(IllegalArgumentException.class, () -> new UncertaintyTerm(UncertaintySource.ZERO, 1, 0));
        assertThrows(
                IllegalArgumentException.class,
                () -> new CellCalibration(Double.NaN, Double.NaN, 0, "", List.of(1.0, 2.0)));
    }
}

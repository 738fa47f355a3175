package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.SymmetryThrough;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Published formulas of asymmetry against worked values, sets of repetitions, and symmetry through an effort. */
class BothLimbsTest {
    private static MetricValue force(double value, double calibration, double noise) {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, calibration)
                .add(UncertaintySource.NOISE, noise)
                .build();
        return MetricValue.of("force.peak", value, budget, "N");
    }

    private static double published(AsymmetryFormula f, Limb reference, double left, double right) {
        MetricValue v = new PublishedAsymmetry(f, reference)
                .compute(force(left, 0, 0.1), force(right, 0, 0.1), CellPair.UNKNOWN);
        assertNotNull(v.quantity(), v.notComputed());
        return v.quantity().value();
    }

    /** Worked by hand from the formulas as Bishop et al. 2016 collect them, for left 412 N and right 368 N. */
    @Test
    void shouldGiveTheWorkedValuesOfEveryFormula() {
        assertEquals(10.679612, published(AsymmetryFormula.STRONGER_MINUS_WEAKER, Limb.NONE, 412, 368), 5e-7);
        assertEquals(5.641026, published(AsymmetryFormula.SYMMETRY_INDEX, Limb.NONE, 412, 368), 5e-7);
        assertEquals(-11.282051, published(AsymmetryFormula.ASYMMETRY_INDEX, Limb.RIGHT, 412, 368), 5e-7);
        assertEquals(11.282051, published(AsymmetryFormula.ASYMMETRY_INDEX, Limb.LEFT, 412, 368), 5e-7);
        assertEquals(-5.641026, published(AsymmetryFormula.BILATERAL_INDEX, Limb.RIGHT, 412, 368), 5e-7);
        assertEquals(89.320388, published(AsymmetryFormula.WEAKER_OVER_STRONGER, Limb.NONE, 412, 368), 5e-7);
        assertEquals(111.956522, published(AsymmetryFormula.OTHER_OVER_REFERENCE, Limb.RIGHT, 412, 368), 5e-7);
        assertEquals(10.679612, published(AsymmetryFormula.DIFFERENCE_TO_REFERENCE, Limb.LEFT, 412, 368), 5e-7);
        assertEquals(-3.587387, published(AsymmetryFormula.SYMMETRY_ANGLE, Limb.NONE, 412, 368), 5e-7);
        // Second example, 25 and 20.
        assertEquals(20, published(AsymmetryFormula.STRONGER_MINUS_WEAKER, Limb.NONE, 25, 20), 1e-9);
        assertEquals(11.111111, published(AsymmetryFormula.SYMMETRY_INDEX, Limb.NONE, 25, 20), 5e-7);
        assertEquals(22.222222, published(AsymmetryFormula.ASYMMETRY_INDEX, Limb.LEFT, 25, 20), 5e-7);
        assertEquals(80, published(AsymmetryFormula.WEAKER_OVER_STRONGER, Limb.NONE, 25, 20), 1e-9);
        assertEquals(-7.044657, published(AsymmetryFormula.SYMMETRY_ANGLE, Limb.NONE, 25, 20), 5e-7);
    }

    @Test
    void shouldSayTheReferenceLimbAndRefuseToGuessIt() {
        for (AsymmetryFormula f : AsymmetryFormula.values()) {
            boolean chosen = f.reference() == AsymmetryFormula.Reference.CHOSEN;
            PublishedAsymmetry m = new PublishedAsymmetry(f, chosen ? Limb.RIGHT : Limb.NONE);
            assertTrue(m.formula().contains("reference limb: "), m.formula());
            assertEquals(f, AsymmetryFormula.named(f.id()));
            assertThrows(
                    IllegalArgumentException.class, () -> new PublishedAsymmetry(f, chosen ? Limb.NONE : Limb.LEFT));
        }
        String refused = assertThrows(IllegalArgumentException.class, () -> AsymmetryFormula.named("x"))
                .getMessage();
        assertTrue(refused.contains("symmetry-angle"), refused);
    }

    @Test
    void shouldAgreeWithDrawsForEveryFormula() {
        for (AsymmetryFormula f : AsymmetryFormula.values()) {
            Limb reference = f.reference() == AsymmetryFormula.Reference.CHOSEN ? Limb.RIGHT : Limb.NONE;
            double u = new PublishedAsymmetry(f, reference)
                    .compute(force(412, 4, 3), force(368, 3, 2), CellPair.UNKNOWN)
                    .quantity()
                    .standardUncertainty();
            double truth = f.of(412, 368, reference);
            MonteCarlo.assertAgrees("asymmetry, " + f.id(), u, 21, r -> {
                double left = 412 + MonteCarlo.normal(r, 5);
                double right = 368 + MonteCarlo.normal(r, StrictMath.hypot(3, 2));
                return f.of(left, right, reference) - truth;
            });
        }
    }

    @Test
    void shouldAverageSignedIndicesOfRepetitions() {
        LogAsymmetry log = new LogAsymmetry();
        List<MetricValue> repetitions = List.of(
                log.compute(force(400, 4, 2), force(380, 4, 2), CellPair.UNKNOWN),
                log.compute(force(390, 4, 2), force(410, 4, 2), CellPair.UNKNOWN),
                MetricValue.notComputed("asymmetry.log", "why"),
                log.compute(force(405, 4, 2), force(395, 4, 2), CellPair.UNKNOWN));
        MetricValue mean = SetAsymmetry.paired(repetitions, false);
        double expected = 100 * (Math.log(400 / 380.0) + Math.log(390 / 410.0) + Math.log(405 / 395.0)) / 3;
        assertEquals(expected, mean.quantity().value(), 1e-9);
        assertTrue(mean.quantity().value() < 1, "and not the mean of magnitudes, which is over 4");
        // Calibration stays whole, noise shrinks with the root of three.
        assertEquals(100 * Math.sqrt(2) * 4 / 397, mean.budget().of(UncertaintySource.CALIBRATION), 0.01);
        assertEquals(100 * Math.sqrt(2) * 2 / 397 / Math.sqrt(3), mean.budget().of(UncertaintySource.NOISE), 0.005);
    }

    /** With true symmetry and an error of 5.7 points the mean magnitude is 4.5: sqrt(2 / pi) times it. */
    @Test
    void shouldShowWhyMagnitudesAreNeverAveraged() {
        Random random = new Random(31);
        double signed = 0;
        double magnitude = 0;
        int n = 100_000;
        for (int i = 0; i < n; i++) {
            double index = 5.7 * random.nextGaussian();
            signed += index / n;
            magnitude += Math.abs(index) / n;
        }
        assertEquals(0, signed, 0.1);
        assertEquals(4.5, magnitude, 0.1);
    }

    @Test
    void shouldRefuseASqueezeOnOneLoadPath() {
        List<MetricValue> equal = List.of(MetricValue.of("asymmetry.log", 0.1, 0.5, "%"));
        assertTrue(SetAsymmetry.paired(equal, true).notComputed().contains("third law"));
        assertEquals(
                "no repetition has an asymmetry",
                SetAsymmetry.paired(List.of(), false).notComputed());
    }

    @Test
    void shouldCompareLimbsTestedOneByOneByTheSameStatistic() {
        List<MetricValue> left = List.of(force(400, 4, 2), force(410, 4, 2), force(390, 4, 2));
        List<MetricValue> right = List.of(force(380, 4, 2), force(360, 4, 2), force(370, 4, 2));
        MetricValue v = SetAsymmetry.oneByOne(left, right, CellPair.UNKNOWN);
        assertEquals(100 * Math.log(400 / 370.0), v.quantity().value(), 1e-9);
        assertEquals(100 * 0.01, v.budget().of(UncertaintySource.CALIBRATION), 0.5);
        assertEquals(
                "unequal numbers of trials: 3 left, 2 right",
                SetAsymmetry.oneByOne(left, right.subList(0, 2), CellPair.UNKNOWN)
                        .notComputed());
    }

    @Test
    void shouldFollowSymmetryThroughALowering() {
        // The left limb fades against the right: from equal to 20 % less.
        InventedWindow left = InventedWindow.of(1000, 4, t -> t < 0 ? 0 : 100 + 60 * t);
        InventedWindow right = InventedWindow.at(1_100_000_000L, 1000, 4, t -> (100 + 60 * (t + 0.1)) / (1 - 0.05 * t));
        SymmetryThrough curve = SymmetryCurve.of(left, right, new CellPair(0, 0.01));
        assertNull(curve.notComputed());
        assertEquals(10, curve.parts().size());
        assertEquals(1_100_000_000L, curve.parts().get(0).fromNs());
        assertEquals(5_000_000_000L, curve.parts().get(9).toNs());
        List<Double> values = new ArrayList<>();
        for (SymmetryThrough.Part part : curve.parts()) {
            Quantity q = part.asymmetry().quantity();
            values.add(q.value());
            assertEquals(1, part.asymmetry().budget().of(UncertaintySource.CELL_MISMATCH), 1e-12);
        }
        assertEquals(100 * Math.log(1 - 0.05 * 0.195), values.get(0), 0.1);
        assertEquals(100 * Math.log(1 - 0.05 * 3.705), values.get(9), 0.1);
        SymmetryThrough swapped = SymmetryCurve.of(right, left, new CellPair(0, 0.01));
        for (int i = 0; i < 10; i++) {
            assertEquals(
                    -values.get(i),
                    swapped.parts().get(i).asymmetry().quantity().value(),
                    1e-9);
        }
    }

    @Test
    void shouldSayWhereSymmetryWasNotSeen() {
        InventedWindow left = InventedWindow.of(1000, 2, t -> 300);
        InventedWindow torn = InventedWindow.of(1000, 2, t -> 300).without(0.5, 0.55);
        SymmetryThrough curve = SymmetryCurve.of(left, torn, CellPair.UNKNOWN);
        assertEquals("samples are missing", curve.parts().get(2).asymmetry().notComputed());
        assertNotNull(curve.parts().get(5).asymmetry().quantity());
        InventedWindow apart = InventedWindow.at(2_800_000_000L, 1000, 2, t -> 300);
        assertNotNull(SymmetryCurve.of(left, apart, CellPair.UNKNOWN).notComputed());
    }
}

package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.TestConditions.Fixation;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** What every metric of the registry must keep, whatever the contraction and the conditions: drawn at random. */
class MetricPropertyTest {
    private static final List<Metric> ALL = MetricRegistry.standard().metrics();
    private static final int DRAWS = 25;

    /** One contraction: quick rise, slow fall, tremor; and the words of one of four plans. */
    private static final class Draw {
        final double top;
        final double tau;
        final double lengthS;
        final int plan;
        final double noisePhase;

        Draw(Random random, int k) {
            top = 200 + 800 * random.nextDouble();
            tau = 0.04 + 0.08 * random.nextDouble();
            plan = k % 4;
            lengthS = plan == 3 ? 8 : 0.5 + 4 * random.nextDouble();
            noisePhase = 6 * random.nextDouble();
        }

        double force(double t) {
            double tremor = 1 + 0.01 * StrictMath.sin(2 * Math.PI * 8.7 * t + noisePhase);
            return t <= 0 ? 0 : top * (1 - StrictMath.exp(-t / tau)) * (1 - 0.04 * t) * tremor;
        }

        InventedWindow window(long onsetNs, DoubleUnaryOperator change, double scale) {
            InventedWindow w = InventedWindow.at(onsetNs, 1000, lengthS, t -> change.applyAsDouble(force(t)));
            w.restingLevelN = change.applyAsDouble(0);
            w.restingNoiseN = 0.5 * scale;
            w.resolution = 0.1 * scale;
            w.zeroU = 0.3 * scale;
            w.bandwidthHz = 400;
            w.onsetU = 1e6;
            w.offsetU = 2e6;
            w.conditions = conditions(scale);
            return w;
        }

        private TestConditions conditions(double scale) {
            TestConditions.Builder b =
                    TestConditions.UNKNOWN.toBuilder().leverArmM(0.36, 0.005).bodyMassKg(70, 0.5);
            switch (plan) {
                case 0 -> b.cue(Cue.EXPLOSIVE).fixation(Fixation.RIGID).ownMaximumN(top * scale);
                case 1 -> b.targetForceN(0.8 * top * scale);
                case 2 -> b.effortType(EffortType.ECCENTRIC);
                default -> b.cue(Cue.UNKNOWN);
            }
            return b.build();
        }
    }

    @Test
    void shouldScaleWithTheForce() {
        Random random = new Random(7);
        Set<String> seen = new HashSet<>();
        for (int k = 0; k < DRAWS; k++) {
            Draw draw = new Draw(random, k);
            double factor = 1 + 2 * random.nextDouble();
            InventedWindow one = draw.window(1_000_000_000L, f -> f, 1);
            InventedWindow scaled = draw.window(1_000_000_000L, f -> factor * f, factor);
            for (Metric m : ALL) {
                double expected = m.unit().startsWith("N") ? factor : 1;
                same(m, one, scaled, expected, seen);
            }
        }
        Set<String> missed = new HashSet<>();
        // Places on a plate have a test of their own: nothing here is a plate.
        ALL.stream().filter(m -> !(m instanceof PlatePlace)).forEach(m -> missed.add(m.id()));
        missed.removeAll(seen);
        assertEquals(Set.of(), missed, "every metric must have been computed at least once");
    }

    @Test
    void shouldNotDependOnWhenItWas() {
        Random random = new Random(8);
        for (int k = 0; k < DRAWS; k++) {
            Draw draw = new Draw(random, k);
            InventedWindow one = draw.window(1_000_000_000L, f -> f, 1);
            InventedWindow later = draw.window(1_000_000_000L + random.nextInt(2_000_000_000), f -> f, 1);
            for (Metric m : ALL) {
                same(m, one, later, 1, new HashSet<>());
            }
        }
    }

    @Test
    void shouldCountRisesFromTheRestAndLevelsFromTheZero() {
        Random random = new Random(9);
        for (int k = 0; k < DRAWS; k++) {
            Draw draw = new Draw(random, 4 * k + 3);
            double offset = 30 * random.nextDouble();
            InventedWindow one = draw.window(1_000_000_000L, f -> f, 1);
            InventedWindow raised = draw.window(1_000_000_000L, f -> f + offset, 1);
            for (Metric m : ALL) {
                Quantity a = m.compute(one).quantity();
                Quantity b = m.compute(raised).quantity();
                if (a == null || b == null) {
                    continue;
                }
                String id = m.id();
                if (id.startsWith("force.at")
                        || id.startsWith("impulse")
                        || id.matches("rfd\\..*ms")
                        || id.startsWith("time")) {
                    assertEquals(a.value(), b.value(), 1e-8 * Math.abs(a.value()), id);
                } else if (id.equals("force.peak") || id.startsWith("force.mean") || id.equals("force.resting")) {
                    assertEquals(a.value() + offset, b.value(), 1e-8 * b.value(), id);
                }
            }
        }
    }

    @Test
    void shouldGiveTheSameAloneAndTogether() {
        Random random = new Random(10);
        for (int k = 0; k < DRAWS; k++) {
            InventedWindow w = new Draw(random, k).window(1_000_000_000L, f -> f, 1);
            List<MetricValue> together = MetricRegistry.standard().compute(w);
            List<Metric> alone = ALL.stream().filter(metric -> metric.isFor(w)).toList();
            assertEquals(alone.size(), together.size());
            for (int i = 0; i < alone.size(); i++) {
                assertEquals(alone.get(i).compute(w), together.get(i));
            }
        }
    }

    @Test
    void shouldNeverThrowForData() {
        Random random = new Random(11);
        for (int k = 0; k < 40; k++) {
            double lengthS = 0.002 + 3 * random.nextDouble() * random.nextDouble();
            double rateHz = new double[] {10, 80, 100, 1000, 2000}[k % 5];
            double level = 300 * random.nextGaussian();
            InventedWindow w = InventedWindow.of(rateHz, lengthS, t -> t < 0 ? 0 : level * random.nextGaussian());
            if (k % 3 == 0) {
                double from = -0.5 + (lengthS + 0.6) * random.nextDouble();
                w = w.without(from, from + random.nextDouble());
            }
            w.conditions = new Draw(random, k).conditions(1);
            for (MetricValue v : MetricRegistry.standard().compute(w)) {
                Quantity q = v.quantity();
                assertTrue(q == null ? v.notComputed() != null : Double.isFinite(q.value()), v.id());
            }
        }
    }

    private static void same(Metric m, InventedWindow a, InventedWindow b, double factor, Set<String> seen) {
        MetricValue one = m.compute(a);
        MetricValue other = m.compute(b);
        Quantity q = one.quantity();
        if (q == null) {
            assertEquals(one.notComputed(), other.notComputed(), m.id());
            return;
        }
        seen.add(m.id());
        Quantity r = other.quantity();
        assertNotNull(r, m.id() + ": " + other.notComputed());
        // Sums in another order of magnitude may tell another of two equal stretches the highest: times get a sample.
        double slack = m.unit().equals("s") ? 1.5e-3 : 0;
        assertEquals(factor * q.value(), r.value(), 1e-8 * Math.abs(factor * q.value()) + slack, m.id());
        double u = factor * q.standardUncertainty();
        assertEquals(u, r.standardUncertainty(), 1e-6 * u + slack, m.id() + " uncertainty");
    }
}

package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import java.util.List;
import java.util.Objects;
import java.util.Set;

/**
 * Holds a contraction of a recording against the same one of a CSV of the same samples, metric by metric.
 *
 * <p><b>The one difference.</b> Forces of the recording are relative to the session zero, those of the CSV to the rest right
 * before, r. So a level of the CSV is lower by r, a share of the peak or of a mean is larger by 1 / (1 - r / that force), and what
 * counts from the rest (early forces, rates, impulses, times) is the same.
 *
 * <p><b>Tolerances.</b> Times are written to 1 ns and forces to 1e-6 N: boundaries agree within 10 ns, levels within 2e-6 N, forces
 * at a time within 1e-4 N (10 ns of a steep rise), rates within 5e-3 N/s (the same over 20 ms), impulses within 1e-5 N·s, times
 * within 20 ns, shares within 1e-7 of themselves.
 * A plateau's own mean is not known here: its variation agrees to a tenth of what r changes it by. Uncertainties agree within 1 %;
 * those of a resting level and a plateau's variation, which hold no calibration, are less in the CSV: it has no session zero and no
 * drift since.
 */
final class ZeroRules {
    private static final double LEVEL_N = 2e-6;
    private static final double RATE_N_PER_S = 5e-3;
    private static final Set<String> OF_PEAK =
            Set.of("torque.peak", "force.peak.per-kg", "force.peak.allometric", "torque.peak.per-kg");
    private static final Set<String> WITHOUT_CALIBRATION = Set.of("force.resting", "plateau.variation");
    private static final Set<String> OF_THE_ZERO =
            Set.of(ContractionFlag.NO_ZERO.id(), ContractionFlag.RESTING_LEVEL_OFF_ZERO.id());

    private ZeroRules() {}

    /** Compares everything; returns how many metrics had a value. */
    static int assertSame(Contraction recorded, Contraction table, long originNs) {
        assertTrue(Math.abs(recorded.onsetNs() - originNs - table.onsetNs()) <= 10);
        assertTrue(Math.abs(recorded.releaseStartNs() - originNs - table.releaseStartNs()) <= 10);
        assertTrue(Math.abs(recorded.offsetNs() - originNs - table.offsetNs()) <= 10);
        assertEquals(recorded.restingLevelN(), table.restingLevelN(), LEVEL_N);
        assertEquals(flags(recorded), flags(table));
        List<String> ids = recorded.metrics().stream().map(MetricValue::id).toList();
        assertEquals(ids, table.metrics().stream().map(MetricValue::id).toList());
        int values = 0;
        for (int i = 0; i < ids.size(); i++) {
            values += same(recorded, recorded.metrics().get(i), table.metrics().get(i)) ? 1 : 0;
        }
        return values;
    }

    private static List<String> flags(Contraction c) {
        return c.flags().stream().filter(flag -> !OF_THE_ZERO.contains(flag)).toList();
    }

    private static boolean same(Contraction recorded, MetricValue a, MetricValue b) {
        Quantity qa = a.quantity();
        Quantity qb = b.quantity();
        if (qa == null || qb == null) {
            assertEquals(a.notComputed(), b.notComputed(), a.id());
            return false;
        }
        double r = recorded.restingLevelN();
        double peakN = Objects.requireNonNull(recorded.quantity("force.peak")).value();
        double share = 1 - r / peakN;
        double value = qa.value();
        String id = a.id();
        if (OF_PEAK.contains(id)) {
            assertEquals(value * share, qb.value(), 1e-7 * value, id);
        } else if (id.endsWith(".per-peak")) {
            assertEquals(value / share, qb.value(), 1e-7 * Math.abs(value) + RATE_N_PER_S / peakN, id);
        } else if (id.equals("plateau.variation")) {
            assertEquals(value / share, qb.value(), 0.1 * value * Math.abs(1 - share) + 1e-6 * value, id);
        } else if (id.matches("force\\.(peak|peak\\.sample|resting|mean\\..*)")) {
            assertEquals(value - r, qb.value(), LEVEL_N, id);
        } else {
            assertEquals(value, qb.value(), tolerance(id, qa), id);
        }
        double ratio = qb.standardUncertainty() / qa.standardUncertainty();
        boolean less = ratio > 0 && ratio <= 1.0001;
        assertTrue(
                WITHOUT_CALIBRATION.contains(id) ? less : Math.abs(ratio - 1) <= 0.01,
                "uncertainty of " + id + " " + ratio);
        assertEquals(qa.unit(), qb.unit());
        return true;
    }

    private static double tolerance(String id, Quantity q) {
        return switch (q.unit()) {
            case "N" -> 1e-4; // 10 ns of a rise of 5,000 N/s are half of that.
            case "N/s" -> RATE_N_PER_S;
            case "N·s" -> 1e-5 + 1e-9 * Math.abs(q.value());
            case "s" -> 2e-8;
            default -> {
                assertTrue(q.unit().equals("%"), "no rule for " + id);
                yield 1e-6 * Math.abs(q.value());
            }
        };
    }
}

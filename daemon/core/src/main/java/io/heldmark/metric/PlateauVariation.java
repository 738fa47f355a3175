package io.heldmark.metric;

import io.heldmark.filter.ZeroPhase;
import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * How much a held force varies: coefficient of variation about its own straight line.
 *
 * <p><b>Formula.</b> Over the {@link Plateau}, low-passed at 20 Hz without delay ({@link ZeroPhase}, order 2 each pass, the cutoff
 * that of both; up to 0.25 s on both sides go through the filter and are thrown away, padding 9 samples): 100 SD(residuals of
 * the least-squares line) / mean, divisor of the SD n - 1, mean relative to the session zero.
 *
 * <p><b>Two names.</b> Of a force held at a submaximal target it is steadiness, {@code steadiness.cv}; of a maximum, which nobody
 * tries to hold steady, it is {@code plateau.variation}.
 *
 * <p><b>Uncertainty.</b> How much of it the device's own noise and rounding can have made: with v the variance that they leave in
 * the band, SD - sqrt(max(0, SD^2 - v)); and the zero's share of the mean. The calibration cancels.
 *
 * <p><b>Degenerate.</b> No plateau, a mean not above zero, a rate of 50 samples/s or less; without, or with, a target as the
 * name asks; a lowering.
 *
 * <p><b>Source.</b> Coefficient of variation of force about its trend in submaximal holds: Enoka and Farina 2021, Physiology
 * 36:115-130 (from memory); 20 Hz and the margins: common practice, no published source.
 */
public final class PlateauVariation implements Metric {
    private static final double CUTOFF_HZ = 20;
    private static final double LOWEST_RATE_HZ = 50;
    private static final int ORDER = 2;
    private static final long MARGIN_NS = 250_000_000L;

    private final boolean ofTarget;

    /**
     * Makes the metric.
     *
     * @param ofTarget whether of holds at a submaximal target, else of maxima.
     */
    public PlateauVariation(boolean ofTarget) {
        this.ofTarget = ofTarget;
    }

    @Override
    public String id() {
        return ofTarget ? "steadiness.cv" : "plateau.variation";
    }

    @Override
    public String unit() {
        return "%";
    }

    @Override
    public Description describe() {
        return new Description(
                ofTarget ? "Steadiness" : "Plateau variation",
                "100 · SD about the straight line / mean of the force, from 0.25 s after it first reached 90 % of the "
                        + (ofTarget ? "target" : "peak")
                        + " to 0.25 s before the release; low-passed at 20 Hz without delay (forward and backward, order 2,"
                        + " cutoff corrected for both passes).",
                (ofTarget
                                ? "There is no target force below the person's own maximum: of a maximum see"
                                        + " `plateau.variation`."
                                : "There is a target force: see `steadiness.cv`.")
                        + " The force was held for under 1 s, samples are missing, the rate is 50 samples/s or less, or it"
                        + " was a lowering.",
                "What the device's own noise and rounding can have made of it; zero. The calibration cancels.",
                "Enoka and Farina 2021, Physiology 36:115-130 (from memory); 20 Hz: common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        String reason = refused(t);
        if (reason != null) {
            return MetricValue.notComputed(id(), reason);
        }
        Plateau plateau = Plateau.of(t);
        return plateau.reason() != null ? MetricValue.notComputed(id(), plateau.reason()) : value(t, plateau);
    }

    @Override
    public List<MetricMark> marks(Window window) {
        Trace t = Trace.of(window);
        Plateau plateau = refused(t) == null ? Plateau.of(t) : null;
        if (plateau == null || plateau.reason() != null) {
            return List.of();
        }
        double mean = 0;
        for (int i = plateau.from(); i < plateau.to(); i++) {
            mean += t.forceN(i) / plateau.size();
        }
        return List.of(MetricMark.level(id(), t.timeNs(plateau.from()), t.timeNs(plateau.to() - 1), mean));
    }

    private @Nullable String refused(Trace t) {
        String reason = unsuited(t.conditions());
        if (reason == null && !(t.sampleRateHz() > LOWEST_RATE_HZ)) {
            return String.format(Locale.ROOT, "%.0f samples/s, it takes more than 50", t.sampleRateHz());
        }
        return reason;
    }

    private @Nullable String unsuited(TestConditions c) {
        if (c.effortType() == EffortType.ECCENTRIC) {
            return "a lowering has no plateau";
        }
        boolean target = c.targetForceN() > 0;
        if (!ofTarget) {
            return target ? "a target was held: see steadiness.cv" : null;
        }
        if (!target) {
            return "no target force was to be held";
        }
        return c.ownMaximumN() <= c.targetForceN() ? "the target is not below the person's own maximum" : null;
    }

    private MetricValue value(Trace t, Plateau plateau) {
        double[] force = filtered(t, plateau);
        int n = force.length;
        double mean = 0;
        for (double f : force) {
            mean += f / n;
        }
        if (!(mean > 0)) {
            return MetricValue.notComputed(id(), "the mean force is not above zero");
        }
        double sd = standardDeviationAboutLine(force, mean);
        return MetricValue.of(id(), 100 * sd / mean, budget(t, sd, mean), unit());
    }

    /** Filters the plateau with what lies unbroken around it, and returns the plateau alone. */
    private static double[] filtered(Trace t, Plateau plateau) {
        int from = plateau.from();
        long earliestNs = t.timeNs(from) - MARGIN_NS;
        while (from > 0 && t.timeNs(from - 1) >= earliestNs && !t.missingBefore(from)) {
            from--;
        }
        int to = plateau.to();
        long latestNs = t.timeNs(to - 1) + MARGIN_NS;
        while (to < t.size() && t.timeNs(to) <= latestNs && !t.missingBefore(to)) {
            to++;
        }
        ZeroPhase filter = ZeroPhase.lowPass(ORDER, CUTOFF_HZ, 1e9 / t.periodNs());
        return filter.part(t.forcesN(), from, to - from, plateau.from() - from, plateau.size());
    }

    private static double standardDeviationAboutLine(double[] force, double mean) {
        int n = force.length;
        double middle = (n - 1) / 2.0;
        double xy = 0;
        double xx = 0;
        double x = 0 - middle; // Counted along, which is exact here and needs no conversion.
        for (int i = 0; i < n; i++) {
            xy += x * (force[i] - mean);
            xx += x * x;
            x += 1;
        }
        double slope = xy / xx;
        double squares = 0;
        x = 0 - middle;
        for (int i = 0; i < n; i++) {
            double residual = force[i] - mean - slope * x;
            squares += residual * residual;
            x += 1;
        }
        return Math.sqrt(squares / (n - 1));
    }

    private static UncertaintyBudget budget(Trace t, double sd, double mean) {
        DeviceUncertainty u = t.uncertainty();
        double inBand = Math.min(1, 2 * CUTOFF_HZ * t.periodNs() * 1e-9 * Math.max(1, t.restingCorrelationSamples()));
        double noise = t.restingNoiseN() * t.restingNoiseN() * inBand;
        double rounding = t.channel().resolution() * t.channel().resolution() / 12;
        UncertaintyBudget level = u.mean(mean, 1, 0);
        return UncertaintyBudget.builder()
                .add(UncertaintySource.NOISE, 100 / mean * (sd - Math.sqrt(Math.max(0, sd * sd - noise))))
                .add(UncertaintySource.RESOLUTION, 100 / mean * (sd - Math.sqrt(Math.max(0, sd * sd - rounding))))
                .add(UncertaintySource.ZERO, 100 * sd / mean / mean * level.of(UncertaintySource.ZERO))
                .add(UncertaintySource.DRIFT, 100 * sd / mean / mean * level.of(UncertaintySource.DRIFT))
                .build();
    }
}

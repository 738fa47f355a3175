package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;

/**
 * Highest single sample of the force.
 *
 * <p><b>Formula.</b> max F(t) between onset and offset, relative to the session zero.
 *
 * <p><b>Caveat.</b> It grows with noise and rate: of a steady second it lies 3.2 noise SD above the force at 1 kHz and 2.4 at
 * 80 Hz (expected largest of n normal deviates, E(max), n = 1000 and 80). Only for comparison with papers that use it. The value keeps it, the
 * uncertainty holds its expectation ({@link Lift}).
 *
 * <p><b>Degenerate.</b> No sample between onset and offset: not computed. A gap may hide the highest one: not computed.
 *
 * <p><b>Source.</b> Common practice, no published source; uncertainty: {@link DeviceUncertainty}.
 */
public final class PeakSample implements Metric {
    @Override
    public String id() {
        return "force.peak.sample";
    }

    @Override
    public String unit() {
        return "N";
    }

    @Override
    public Description describe() {
        return new Description(
                "Highest sample",
                "Highest single sample between onset and offset, relative to the session zero. It grows with noise and rate"
                        + " (in a steady second 3.2 noise SD above the force at 1 kHz, 2.4 at 80 Hz): only for comparison with"
                        + " papers that use it.",
                "Samples are missing between onset and offset, or there are none.",
                "Calibration, zero, resolution, noise, and the expected lift just named, so that U (k = 2) is twice all else plus the lift.",
                "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace w = Trace.of(window);
        if (w.offsetIndex() < w.onsetIndex()) {
            return MetricValue.notComputed(id(), "there is no sample between onset and offset");
        }
        if (w.missingInside()) {
            return MetricValue.notComputed(id(), "samples are missing between onset and offset");
        }
        double highest = Double.NEGATIVE_INFINITY;
        for (int i = w.onsetIndex(); i <= w.offsetIndex(); i++) {
            double forceN = w.forceN(i);
            highest = forceN > highest ? forceN : highest; // Math.max takes longer, and this loop waits for it.
        }
        double noise = Math.sqrt(w.uncertainty().noiseVariance(Reading.at(0, 0)));
        Lift lift = Lift.of(w.blocks(), noise, Lift.independent(w));
        return MetricValue.of(
                id(),
                highest,
                lift.budget(w.uncertainty().mean(highest, 1, 0), 1),
                w.channel().unit());
    }
}

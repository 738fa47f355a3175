package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;

/** Highest 100-ms mean of the force. */
public final class PeakForce implements Metric {
    private static final long SPAN_NS = 100_000_000L;

    @Override
    public String id() {
        return "force.peak";
    }

    @Override
    public String unit() {
        return "N";
    }

    @Override
    public Description describe() {
        return new Description(
                "Peak force",
                "The highest mean over 100 ms between onset and offset, relative to the session zero.",
                "No stretch of 100 ms without a gap lies between onset and offset.",
                "Calibration, zero, resolution, and noise of a 100-ms mean.",
                "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        SlidingMean best = SlidingMean.highest(window, SPAN_NS);
        if (best == null) {
            return MetricValue.notComputed(id(), "no 100 ms without a gap between onset and offset");
        }
        DeviceUncertainty u = DeviceUncertainty.of(window);
        double independent = u.independentSamples(best.samples(), window.restingCorrelationSamples(), SPAN_NS * 1e-9);
        return MetricValue.of(
                id(),
                best.meanN(),
                u.ofMean(best.meanN(), window.restingNoiseN(), independent),
                window.channel().unit());
    }
}

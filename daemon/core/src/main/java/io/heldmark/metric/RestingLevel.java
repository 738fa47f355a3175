package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;

/**
 * Force right before the contraction.
 *
 * <p><b>Formula.</b> Mean of the 200 ms before the onset, relative to the session zero. After a countermovement the level
 * before the dip.
 *
 * <p><b>Degenerate.</b> None: where nothing lies before the onset it is the level that the detector knew.
 *
 * <p><b>Source.</b> Rest of the last 200 ms: Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116, Fig. 6; uncertainty:
 * {@link DeviceUncertainty}.
 */
public final class RestingLevel implements Metric {
    @Override
    public String id() {
        return "force.resting";
    }

    @Override
    public String unit() {
        return "N";
    }

    @Override
    public Description describe() {
        return new Description(
                "Resting level",
                "Mean of the 200 ms before the onset, relative to the session zero. The base of onset and impulse; never"
                        + " subtracted from peak or mean.",
                "Always computed.",
                "Calibration, zero, resolution, noise of a 200-ms mean.",
                "Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116, Fig. 6 (the 200 ms).");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        return MetricValue.of(
                id(),
                t.restingLevelN(),
                t.uncertainty().at(t.rest(), 0),
                t.channel().unit());
    }
}

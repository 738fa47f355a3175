package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.Window;
import java.util.List;

/**
 * Highest 100-ms mean of the force.
 *
 * <p><b>Formula.</b> max over s of mean{F(t): s &lt;= t &lt; s + 100 ms}, F relative to the session zero; see {@link
 * SlidingMean}. The resting level is not subtracted.
 *
 * <p><b>Degenerate.</b> No whole stretch: not computed.
 *
 * <p><b>Caveat.</b> The highest of many noisy means lies above the mean of the force by about 1 to 2 of their noise SD.
 *
 * <p><b>Source.</b> Common practice, no published source; uncertainty: {@link DeviceUncertainty}.
 */
public final class PeakForce implements Metric {
    /** Its id. */
    public static final String ID = "force.peak";

    static final long SPAN_NS = 100_000_000L;

    @Override
    public String id() {
        return ID;
    }

    @Override
    public String unit() {
        return "N";
    }

    @Override
    public Description describe() {
        return new Description(
                "Peak force",
                "Highest mean over 100 ms between onset and offset, relative to the session zero; the resting level is not"
                        + " subtracted.",
                "No 100 ms without missing samples lie between onset and offset.",
                "Calibration, zero, resolution, noise of a 100-ms mean.",
                "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        return BestMean.value(id(), window, SPAN_NS);
    }

    @Override
    public List<MetricMark> marks(Window window) {
        return BestMean.marks(id(), window, SPAN_NS);
    }

    /** Returns the budget of the peak force. */
    static UncertaintyBudget budget(Trace t, SlidingMean peak) {
        return t.uncertainty().mean(peak.meanN(), peak.samples(), SPAN_NS * 1e-9);
    }
}

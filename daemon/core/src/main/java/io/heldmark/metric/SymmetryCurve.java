package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.SymmetryThrough;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;

/**
 * Symmetry through an effort of both limbs, as through a kneeling lower: the signed log ratio of the mean forces in equal parts
 * of the time during which both limbs were at work.
 *
 * <p><b>Definition.</b> From the later onset to the earlier release, in ten parts; in each 100 ln(L/R) of the mean forces
 * relative to the session zero. A part with missing samples, or a force not far enough above zero, has a reason instead.
 *
 * <p><b>Uncertainty.</b> As {@link LogAsymmetry}, with the mean of the part's samples. Alignment of the two devices moves a part's
 * edges: where they are of different devices, force slope times alignment is in it as timing.
 *
 * <p><b>Source.</b> The project's definition, no published source.
 */
public final class SymmetryCurve {
    /** Id of a part's value. */
    public static final String ID = "asymmetry.log.part";

    private static final int PARTS = 10;
    private static final double LEAST_S = 0.5;

    private SymmetryCurve() {}

    /** Makes the curve of both limbs' windows of one effort. */
    public static SymmetryThrough of(Window left, Window right, CellPair cells) {
        long fromNs = Math.max(left.onsetNs(), right.onsetNs());
        long toNs = Math.min(left.releaseStartNs(), right.releaseStartNs());
        if ((toNs - fromNs) * 1e-9 < LEAST_S) {
            return new SymmetryThrough(List.of(), "both limbs were at work together for less than 0.5 s");
        }
        boolean oneDevice = left.channel().link().equals(right.channel().link());
        List<SymmetryThrough.Part> parts = new ArrayList<>();
        for (int i = 0; i < PARTS; i++) {
            long a = fromNs + (toNs - fromNs) * i / PARTS;
            long b = fromNs + (toNs - fromNs) * (i + 1) / PARTS;
            MetricValue l = mean(left, a, b, oneDevice);
            MetricValue r = mean(right, a, b, oneDevice);
            parts.add(new SymmetryThrough.Part(a, b, ratio(l, r, cells)));
        }
        return new SymmetryThrough(parts, null);
    }

    private static MetricValue ratio(MetricValue l, MetricValue r, CellPair cells) {
        String missing = l.notComputed() == null ? r.notComputed() : l.notComputed();
        if (missing != null) {
            return MetricValue.notComputed(ID, missing);
        }
        MetricValue log = new LogAsymmetry().compute(l, r, cells);
        return new MetricValue(ID, log.quantity(), log.notComputed(), log.budget());
    }

    private static MetricValue mean(Window w, long fromNs, long toNs, boolean oneDevice) {
        double periodNs = Samples.periodNs(w);
        double sum = 0;
        int n = 0;
        int first = -1;
        int last = -1;
        for (int i = 0; i < w.size() && w.timeNs(i) < toNs; i++) {
            if (w.timeNs(i) >= fromNs) {
                if (n > 0 && Samples.missingBefore(w, i, periodNs)) {
                    return MetricValue.notComputed(ID, "samples are missing");
                }
                first = n == 0 ? i : first;
                last = i;
                sum += w.forceN(i);
                n++;
            }
        }
        double spanS = (toNs - fromNs) * 1e-9;
        if (n * periodNs < (toNs - fromNs) - 1.5 * periodNs) {
            return MetricValue.notComputed(ID, "samples are missing");
        }
        double slope = (w.forceN(last) - w.forceN(first)) / spanS;
        double timeU = oneDevice ? 0 : w.timeStandardUncertaintyNs() * 1e-9;
        Reading reading = new Reading(sum / n, n, spanS, slope);
        return MetricValue.of(ID, sum / n, DeviceUncertainty.of(w).at(reading, timeU), "N");
    }
}

package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;

/**
 * Every check that runs once the metrics of a contraction are there. What the detector notices while it finds the
 * boundaries (pre-tension, countermovement, double effort, gaps, overload, ...) is flagged by it. Adding a check is one class
 * and one line here.
 */
public final class QualityChecks {
    private static final List<QualityCheck> ALL = List.of(
            new Dip(),
            new NoPlateau(),
            new Jerk(),
            new CatchSpike(),
            new EarlyRelease(),
            new RateTooLow(),
            new AlignmentUncertain(),
            new BeyondRange(),
            new ConditionsUnknown());

    private QualityChecks() {}

    /**
     * Returns the flags that a finished contraction earns.
     *
     * @param window the contraction.
     * @param values its metrics.
     */
    public static List<ContractionFlag> judge(Window window, List<MetricValue> values) {
        Hold hold = new Hold(window, values);
        List<ContractionFlag> raised = new ArrayList<>();
        for (QualityCheck check : ALL) {
            if (check.raisedBy(hold)) {
                raised.add(check.flag());
            }
        }
        return raised;
    }

    /**
     * Returns the detector's flags of a contraction that say what is not so: the second rise of a lowering that is its catch alone
     * is no second effort.
     */
    public static List<ContractionFlag> refuted(Window window, List<MetricValue> values) {
        if (window.conditions().effortType() != EffortType.ECCENTRIC
                || !window.flags().contains(ContractionFlag.DOUBLE_EFFORT)) {
            return List.of();
        }
        Hold hold = new Hold(window, values);
        boolean caught = new CatchSpike().raisedBy(hold) && CatchSpike.isOnlyRise(hold);
        return caught ? List.of(ContractionFlag.DOUBLE_EFFORT) : List.of();
    }

    /** Returns what is looked at for a flag and from where on; empty where the flag is the detector's. */
    static String rule(ContractionFlag flag) {
        for (QualityCheck check : ALL) {
            if (check.flag() == flag) {
                return check.rule();
            }
        }
        return flag == ContractionFlag.TRIAL_SPREAD ? TrialSpread.RULE : "";
    }
}

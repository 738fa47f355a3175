package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;

/** Rates of force development were stated although nobody said how the person was told to push, nor what held the limb. */
final class ConditionsUnknown implements QualityCheck {
    @Override
    public ContractionFlag flag() {
        return ContractionFlag.CONDITIONS_UNKNOWN;
    }

    @Override
    public String rule() {
        return "A rate of force development was computed because the trace qualifies, without a plan that says cue and fixation.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        boolean stated = hold.values().stream().anyMatch(v -> v.id().startsWith("rfd.") && v.quantity() != null);
        return stated && RateGates.conditionsUnknown(hold.window().conditions());
    }
}

package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;

/** Let go before the time that the plan asks for; without a plan nobody knows what was asked. */
final class EarlyRelease implements QualityCheck {
    private static final double SHARE = 0.9;
    private static final double TOLERANCE_SHARE = 0.1;
    private static final double TOLERANCE_S = 0.2;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.EARLY_RELEASE;
    }

    @Override
    public String rule() {
        return "From first reaching 90 % of the peak to the release it was shorter than the plan's hold by more than 10 % and"
                + " 0.2 s. Between limbs: see the effort's flags.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        double asked = hold.window().conditions().holdS();
        double held = (hold.release() - hold.firstAbove(SHARE)) * hold.blockS();
        return asked > 0 && held < asked - Math.max(TOLERANCE_S, TOLERANCE_SHARE * asked);
    }
}

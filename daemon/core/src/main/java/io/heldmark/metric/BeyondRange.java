package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;

/** The load was higher than any of the calibration: {@link CalibrationTerm} says how the uncertainty grows. */
final class BeyondRange implements QualityCheck {
    @Override
    public ContractionFlag flag() {
        return ContractionFlag.BEYOND_RANGE;
    }

    @Override
    public String rule() {
        return "The highest 100 ms, the session zero's own level added, lie above the highest force of the calibration.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        double peakN = hold.peakN() + hold.window().restingLevelN();
        return DeviceUncertainty.of(hold.window()).beyondRange(peakN);
    }
}

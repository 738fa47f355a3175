package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;

/** The device's clock is not aligned well enough to compare instants with another device's. The project's limit. */
final class AlignmentUncertain implements QualityCheck {
    private static final double LIMIT_NS = 10e6;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.ALIGNMENT_UNCERTAIN;
    }

    @Override
    public String rule() {
        return "The standard uncertainty of the device's clock against the station's is over 10 ms.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        return hold.window().timeStandardUncertaintyNs() > LIMIT_NS;
    }
}

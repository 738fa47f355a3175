package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.Window;

/**
 * Too few samples a second for rates of force development that were asked for, or that the rise invites.
 *
 * <p><b>Source.</b> 1 kHz: Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116 (from memory); 200 N/s: common practice.
 */
final class RateTooLow implements QualityCheck {
    private static final double RATE_HZ = 990; // A clock may run slow.
    private static final double EXPLOSIVE_N_PER_S = 200;
    private static final double RISE_S = 0.1;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.RATE_TOO_LOW;
    }

    @Override
    public String rule() {
        return "Below 1,000 samples/s, in an effort that was to be explosive or, where nobody said, that rises by 200 N/s or more"
                + " over its first 100 ms.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        Window w = hold.window();
        if (w.sampleRateHz() >= RATE_HZ || w.conditions().cue() == Cue.RAMPED) {
            return false;
        }
        return w.conditions().cue() == Cue.EXPLOSIVE || slopeNPerS(hold) >= EXPLOSIVE_N_PER_S;
    }

    private static double slopeNPerS(Hold hold) {
        int block = (int) Math.round(RISE_S / hold.blockS());
        return block < hold.size() ? hold.heightN(block) / (block * hold.blockS() + hold.blockS() / 2) : 0;
    }
}

package io.heldmark.detect;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.SampleBatch;
import java.util.EnumSet;
import java.util.Set;

/** What the status of a batch of samples means for the contraction that they belong to. */
final class BatchFlags {
    private final Set<ContractionFlag> raised = EnumSet.noneOf(ContractionFlag.class);
    private int bits;

    /** Forgets the batch before and reads this one. */
    void read(SampleBatch batch) {
        if (batch.flags == bits) {
            return; // As nearly always.
        }
        bits = batch.flags;
        raised.clear();
        note(batch, SampleBatch.OVERLOAD, ContractionFlag.OVERLOAD);
        note(batch, SampleBatch.ADC_FAULT, ContractionFlag.ADC_FAULT);
        note(batch, SampleBatch.CLOCK_RESTARTED, ContractionFlag.CLOCK_RESTARTED);
        note(batch, SampleBatch.RESAMPLED, ContractionFlag.RESAMPLED);
    }

    /** Returns the flags of the batch last read; changes with the next one. */
    Set<ContractionFlag> raised() {
        return raised;
    }

    private void note(SampleBatch batch, int bit, ContractionFlag flag) {
        if (batch.has(bit)) {
            raised.add(flag);
        }
    }
}

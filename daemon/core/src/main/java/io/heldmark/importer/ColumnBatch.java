package io.heldmark.importer;

import io.heldmark.model.SampleBatch;

/** Gathers the samples of one column; a gap begins a new batch. */
final class ColumnBatch {
    private static final int CAPACITY = 64;

    private final SamplingGrid grid;
    private final SampleBatch batch = new SampleBatch(CAPACITY);
    private boolean started;
    private long lastNs;
    private long index;

    ColumnBatch(int column, SamplingGrid grid) {
        this.grid = grid;
        batch.channel = column;
        batch.periodNs = grid.periodNs();
        batch.timeStandardUncertaintyNs = grid.timeStandardUncertaintyNs();
    }

    /** Tells whether no value has come yet. */
    boolean isEmpty() {
        return !started;
    }

    /** Takes the value of a row. */
    void add(long timeNs, double forceN, CsvImport.Listener out) {
        if (Double.isNaN(forceN)) {
            return; // Missing: the next sample comes after a gap.
        }
        boolean gap = started && grid.isGap(timeNs - lastNs);
        if (gap || batch.count == CAPACITY) {
            flush(out);
        }
        if (gap) {
            batch.flags = SampleBatch.GAP_BEFORE;
            batch.missingBefore = Math.max(1, Math.round((timeNs - lastNs) / grid.periodNs()) - 1);
            index += batch.missingBefore;
        }
        if (batch.count == 0) {
            batch.firstSampleIndex = index;
        }
        batch.timeNs[batch.count] = timeNs;
        batch.forceN[batch.count] = forceN;
        batch.count++;
        index++;
        lastNs = timeNs;
        started = true;
    }

    /** Hands on what is there. */
    void flush(CsvImport.Listener out) {
        if (batch.count > 0) {
            batch.arrivalNs = lastNs;
            out.onBatch(batch);
        }
        batch.count = 0;
        batch.flags = 0;
        batch.missingBefore = 0;
    }
}

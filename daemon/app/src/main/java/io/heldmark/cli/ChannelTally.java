package io.heldmark.cli;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.SampleBatch;
import java.io.IOException;

/** What the analysis of a file says of one channel: its samples are counted, its gaps kept. */
final class ChannelTally implements AutoCloseable {
    /** Says how a gap is written down. */
    interface GapText {
        /** Returns the text of a gap between two samples, in nanoseconds. */
        String of(long lastNs, long nextNs);
    }

    private final String name;
    private final GapText gapText;
    private final String separator;
    private final Spool gaps = new Spool();
    private ChannelInfo info;
    private long samples;
    private long gapCount;
    private long newestNs;

    ChannelTally(String name, ChannelInfo info, String separator, GapText gapText) {
        this.name = name;
        this.info = info;
        this.separator = separator;
        this.gapText = gapText;
    }

    /** Returns the channel's name in the document, different from every other's. */
    String name() {
        return name;
    }

    ChannelInfo info() {
        return info;
    }

    void setInfo(ChannelInfo newest) {
        info = newest;
    }

    long samples() {
        return samples;
    }

    long gapCount() {
        return gapCount;
    }

    Spool gaps() {
        return gaps;
    }

    void onBatch(SampleBatch batch) throws IOException {
        if (batch.count == 0) {
            return;
        }
        if (samples > 0 && batch.has(SampleBatch.GAP_BEFORE)) {
            gapCount++;
            gaps.addItem(separator, gapText.of(newestNs, batch.timeNs[0]));
        }
        samples += batch.count;
        newestNs = batch.timeNs[batch.count - 1];
    }

    @Override
    public void close() throws IOException {
        gaps.close();
    }
}

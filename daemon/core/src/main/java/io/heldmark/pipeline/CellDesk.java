package io.heldmark.pipeline;

import io.heldmark.cell.CellMonitor;
import io.heldmark.cell.CellReport;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.decode.DecodedFrame;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.TraceFilter;
import io.heldmark.protocol.SamplesView;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Watches every cell for whoever wires it. Fed on the acquisition thread; asked from any. */
final class CellDesk implements StationListener {
    private volatile CellMonitor[] monitors = {};

    @Override
    public void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {
        CellMonitor[] before = monitors;
        CellMonitor[] next = new CellMonitor[channels.size()];
        for (int i = 0; i < next.length; i++) {
            ChannelInfo channel = channels.get(i);
            boolean same = i < before.length && before[i].channel().equals(channel);
            next[i] = same ? before[i] : new CellMonitor(channel);
        }
        monitors = next;
    }

    @Override
    public void onCounts(int channel, DecodedFrame frame, int position, long newestNs) {
        CellMonitor[] all = monitors;
        if (channel >= all.length) {
            return;
        }
        CellMonitor monitor = all[channel];
        boolean overload = (frame.status & SamplesView.STATUS_OVERLOAD) != 0;
        monitor.beginMessage(frame.arrivalNs, newestNs, frame.missingBefore != 0, overload, frame.sampleCount);
        monitor.addAll(frame.counts, position, frame.channelCount, frame.sampleCount);
    }

    @Override
    public void onLinkHealth(LinkHealth health) {
        if (health.state().equals("streaming")) {
            return;
        }
        for (CellMonitor monitor : monitors) {
            if (monitor.channel().link().equals(health.link())) {
                monitor.linkDown();
            }
        }
    }

    /** Returns the newest stretch of a channel; absent where there is no such channel or it is not long enough. */
    @Nullable SteadyLevel steadyLevel(int channel, double seconds, double toleranceCounts) {
        CellMonitor[] all = monitors;
        return channel >= 0 && channel < all.length ? all[channel].level(seconds, toleranceCounts) : null;
    }

    /** Returns the report of a channel; absent where there is no such channel. */
    @Nullable CellReport report(int channel) {
        CellMonitor[] all = monitors;
        return channel >= 0 && channel < all.length ? all[channel].report() : null;
    }
}

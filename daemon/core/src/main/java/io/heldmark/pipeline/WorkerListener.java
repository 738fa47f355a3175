package io.heldmark.pipeline;

import io.heldmark.model.CellOverload;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TapState;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Lets a worker tell an {@link AnalysisListener} what was found, in the order in which it was found, while the thread that
 * reads goes on.
 *
 * <p>Two things are told on the thread that reads: samples, which are too many to hand over and are reused after the call; and
 * channels, once everything before them has been told, for samples refer to them. So a listener is never called by both
 * threads at once but for samples.
 */
final class WorkerListener implements StationListener {
    private final AnalysisListener out;
    private final OrderedWorker worker;

    WorkerListener(AnalysisListener out, OrderedWorker worker) {
        this.out = out;
        this.worker = worker;
    }

    @Override
    public boolean wantsTrace() {
        return false;
    }

    @Override
    public void onMeasured(SampleBatch measured) {
        out.onMeasured(measured);
    }

    @Override
    public void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {
        worker.drain();
        out.onChannels(channels, traceFilters, atNs);
    }

    @Override
    public void onContraction(Contraction contraction) {
        worker.execute(() -> out.onContraction(contraction));
    }

    @Override
    public void onEffort(Effort effort) {
        worker.execute(() -> out.onEffort(effort));
    }

    @Override
    public void onLinkHealth(LinkHealth health) {
        worker.execute(() -> out.onLinkHealth(health));
    }

    @Override
    public void onZero(ZeroState zero) {
        worker.execute(() -> out.onZero(zero));
    }

    @Override
    public void onTap(TapState tap) {
        worker.execute(() -> out.onTap(tap));
    }

    @Override
    public void onOverload(CellOverload overload) {
        worker.execute(() -> out.onOverload(overload));
    }

    @Override
    public void onMark(String text, long atNs) {
        worker.execute(() -> out.onMark(text, atNs));
    }

    @Override
    public void onTrials(SaidConditions said, long atNs) {
        worker.execute(() -> out.onTrials(said, atNs));
    }

    @Override
    public void onTarget(@Nullable Target target, long atNs) {
        worker.execute(() -> out.onTarget(target, atNs));
    }

    @Override
    public void onNotice(String severity, String text, long atNs) {
        worker.execute(() -> out.onNotice(severity, text, atNs));
    }
}

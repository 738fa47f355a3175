package io.heldmark.pipeline;

import io.heldmark.live.LiveFanout;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.Level;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TapState;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Hands what the signal path finds to the viewers. */
record LiveListener(LiveFanout live) implements StationListener {
    @Override
    public void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {
        live.onChannels(channels, traceFilters);
    }

    @Override
    public void onSamples(SampleBatch trace) {
        live.onSamples(trace);
    }

    @Override
    public void onLevels(List<Level> levels, long atNs) {
        live.onLevels(levels);
    }

    @Override
    public void onContraction(Contraction contraction) {
        live.onContraction(contraction);
    }

    @Override
    public void onEffort(Effort effort) {
        live.onEffort(effort);
    }

    @Override
    public void onLinkHealth(LinkHealth health) {
        live.onLinkHealth(health);
    }

    @Override
    public void onZero(ZeroState zero) {
        live.onZero(zero);
    }

    @Override
    public void onTap(TapState tap) {
        live.onTap(tap);
    }

    @Override
    public void onMark(String text, long atNs) {
        live.onMark(text, atNs);
    }

    @Override
    public void onTrials(SaidConditions said, long atNs) {
        live.onTrials(ConditionsJson.event(said), !said.equals(SaidConditions.NONE));
    }

    @Override
    public void onTarget(@Nullable Target target, long atNs) {
        live.onTarget(target);
    }

    @Override
    public void onNotice(String severity, String text, long atNs) {
        live.onNotice(severity, text);
    }
}

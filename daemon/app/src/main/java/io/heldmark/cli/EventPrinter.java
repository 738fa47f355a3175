package io.heldmark.cli;

import io.heldmark.live.EventJson;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.ReplayState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import io.heldmark.pipeline.ConditionsJson;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationListener;
import java.io.PrintWriter;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Prints what the pipeline finds as the events of the live protocol, one a line: the same recording, the same lines.
 *
 * <p>Left out are the trace itself and the levels, which are for eyes.
 */
final class EventPrinter implements StationListener {
    private static final long TURN_MS = 20;

    private final PrintWriter out;
    private final Map<Integer, String> units = new HashMap<>();

    /** Makes a printer. */
    EventPrinter(PrintWriter out) {
        this.out = out;
    }

    @Override
    public void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {
        channels.forEach(channel -> units.put(channel.channel(), channel.unit()));
        out.println(EventJson.channels(channels, traceFilters));
    }

    @Override
    public void onContraction(Contraction contraction) {
        out.println(EventJson.contraction(contraction));
    }

    @Override
    public void onEffort(Effort effort) {
        out.println(EventJson.effort(effort));
    }

    @Override
    public void onLinkHealth(LinkHealth health) {
        out.println(EventJson.link(health));
    }

    @Override
    public void onZero(ZeroState zero) {
        out.println(EventJson.zero(zero, units.getOrDefault(zero.channel(), "N")));
    }

    @Override
    public void onMark(String text, long atNs) {
        out.println(EventJson.mark(text, atNs));
    }

    @Override
    public void onTrials(SaidConditions said, long atNs) {
        out.println(ConditionsJson.event(said));
    }

    @Override
    public void onTarget(@Nullable Target target, long atNs) {
        out.println(EventJson.target(target));
    }

    @Override
    public void onNotice(String severity, String text, long atNs) {
        out.println(EventJson.notice(severity, text));
    }

    /** Waits until the whole recording has been played. */
    void awaitEnd(Station station) throws InterruptedException {
        ReplayState state = station.replayState();
        while (state != null && !state.ended()) {
            Thread.sleep(TURN_MS);
            state = station.replayState();
        }
        out.flush();
    }
}

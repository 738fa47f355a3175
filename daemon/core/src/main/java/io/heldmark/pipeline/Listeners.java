package io.heldmark.pipeline;

import io.heldmark.decode.DecodedFrame;
import io.heldmark.model.CellOverload;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
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
import java.util.concurrent.CopyOnWriteArrayList;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Tells every listener in turn; one that throws is counted and logged and does not keep the others from hearing. */
final class Listeners implements StationListener {
    private static final Logger LOG = LoggerFactory.getLogger(Listeners.class);

    private interface Call {
        void to(StationListener listener);
    }

    private final CopyOnWriteArrayList<StationListener> all = new CopyOnWriteArrayList<>();
    private final Counters counters;

    Listeners(Counters counters) {
        this.counters = counters;
    }

    void add(StationListener listener) {
        all.add(listener);
    }

    @Override
    public void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {
        tell(listener -> listener.onChannels(channels, traceFilters, atNs));
    }

    @Override
    public void onSamples(SampleBatch trace) {
        for (int i = 0; i < all.size(); i++) { // No lambda and no iterator: this is the sample path.
            try {
                all.get(i).onSamples(trace);
            } catch (RuntimeException | Error fault) {
                onFault(fault);
            }
        }
    }

    @Override
    public void onCounts(int channel, DecodedFrame frame, int position, long newestNs) {
        for (int i = 0; i < all.size(); i++) {
            try {
                all.get(i).onCounts(channel, frame, position, newestNs);
            } catch (RuntimeException | Error fault) {
                onFault(fault);
            }
        }
    }

    @Override
    public void onLevels(List<Level> levels, long atNs) {
        tell(listener -> listener.onLevels(levels, atNs));
    }

    @Override
    public void onContraction(Contraction contraction) {
        tell(listener -> listener.onContraction(contraction));
    }

    @Override
    public void onEffort(Effort effort) {
        tell(listener -> listener.onEffort(effort));
    }

    @Override
    public void onLinkHealth(LinkHealth health) {
        tell(listener -> listener.onLinkHealth(health));
    }

    @Override
    public void onZero(ZeroState zero) {
        tell(listener -> listener.onZero(zero));
    }

    @Override
    public void onTap(TapState tap) {
        tell(listener -> listener.onTap(tap));
    }

    @Override
    public void onOverload(CellOverload overload) {
        tell(listener -> listener.onOverload(overload));
    }

    @Override
    public void onMark(String text, long atNs) {
        tell(listener -> listener.onMark(text, atNs));
    }

    @Override
    public void onTrials(SaidConditions said, long atNs) {
        tell(listener -> listener.onTrials(said, atNs));
    }

    @Override
    public void onTarget(@Nullable Target target, long atNs) {
        tell(listener -> listener.onTarget(target, atNs));
    }

    @Override
    public void onNotice(String severity, String text, long atNs) {
        tell(listener -> listener.onNotice(severity, text, atNs));
    }

    private void tell(Call call) {
        for (StationListener listener : all) {
            try {
                call.to(listener);
            } catch (RuntimeException | Error fault) {
                onFault(fault);
            }
        }
    }

    private void onFault(Throwable fault) {
        counters.increment(Counter.LISTENER_FAULTS);
        LOG.error("a listener failed", fault);
    }
}

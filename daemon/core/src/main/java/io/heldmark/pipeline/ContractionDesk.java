package io.heldmark.pipeline;

import io.heldmark.detect.ContractionDetector;
import io.heldmark.metric.EffortPairing;
import io.heldmark.metric.LogAsymmetry;
import io.heldmark.metric.MetricRegistry;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.Window;

/**
 * Takes what the detectors of all channels find, has it measured and paired, and tells the listener.
 *
 * <p><b>Threading.</b> One thread.
 */
final class ContractionDesk {
    private final MetricRegistry metrics = MetricRegistry.standard();
    private final EffortPairing pairing = new EffortPairing(new LogAsymmetry(0));
    private final StationListener out;
    private long lastId;

    ContractionDesk(StationListener out) {
        this.out = out;
    }

    /** Returns the session's next contraction id, from 1. */
    long nextId() {
        return ++lastId;
    }

    /** Returns the listener for one channel's detector. */
    ContractionDetector.Listener listenerOf(ChannelInfo channel) {
        return new ContractionDetector.Listener() {
            @Override
            public void onOpened(Contraction provisional, long atNs) {
                out.onContraction(provisional);
            }

            @Override
            public void onClosed(Contraction finished, Window window, long atNs) {
                Contraction measured = finished.withMetrics(metrics.compute(window));
                out.onContraction(measured);
                Effort effort = pairing.onFinal(measured, channel, window.timeStandardUncertaintyNs());
                if (effort != null) {
                    out.onEffort(effort);
                }
            }

            @Override
            public void onWithdrawn(Contraction withdrawn, long atNs) {
                out.onContraction(withdrawn);
            }
        };
    }
}

package io.heldmark.pipeline;

import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.filter.BiquadCascade;
import io.heldmark.filter.Butterworth;
import io.heldmark.filter.Notch;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TraceFilter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * The filters of one channel's live trace: causal, with their delay declared.
 *
 * <p>After a gap, a restart of the clock or a new zero the filters settle on the next sample, so that nothing swings in.
 *
 * <p><b>Threading.</b> One thread; nothing is allocated after construction.
 */
final class TraceChain {
    /** A filter is left out where the sample rate is not above this many times its frequency. */
    private static final double LEAST_RATE_RATIO = 2.5;

    private static final double NOTCH_Q = 10;
    private static final int RE_PRIME = SampleBatch.GAP_BEFORE | SampleBatch.CLOCK_RESTARTED;

    private final BiquadCascade[] filters;
    private final TraceFilter description;
    private boolean primed;

    TraceChain(StationSettings settings, double sampleRateHz) {
        List<BiquadCascade> chain = new ArrayList<>();
        List<String> words = new ArrayList<>();
        double notchHz = Double.parseDouble(settings.text(Config.TRACE_NOTCH_HZ));
        if (notchHz > 0 && sampleRateHz > LEAST_RATE_RATIO * notchHz) {
            chain.add(Notch.at(notchHz, NOTCH_Q, sampleRateHz));
            words.add(String.format(Locale.ROOT, "notch at %.0f Hz", notchHz));
        }
        double lowPassHz = settings.number(Config.TRACE_LOW_PASS_HZ);
        if (lowPassHz > 0 && sampleRateHz > LEAST_RATE_RATIO * lowPassHz) {
            chain.add(Butterworth.lowPass(2, lowPassHz, sampleRateHz));
            words.add(String.format(Locale.ROOT, "low-pass at %.4g Hz (Butterworth, order 2)", lowPassHz));
        }
        filters = chain.toArray(new BiquadCascade[0]);
        double delayS = 0;
        for (BiquadCascade filter : filters) {
            delayS += filter.dcGroupDelayS(sampleRateHz);
        }
        description = filters.length == 0 ? TraceFilter.NONE : new TraceFilter(delayS, String.join(", ", words));
    }

    TraceFilter description() {
        return description;
    }

    /** Forgets the past: the next sample is taken as having been there for ever. */
    void settleOnNext() {
        primed = false;
    }

    /** Tells whether samples pass unchanged. */
    boolean passesUnchanged() {
        return filters.length == 0;
    }

    /** Filters a batch in place. */
    void process(SampleBatch batch) {
        if (batch.count == 0) {
            return;
        }
        if (!primed || (batch.flags & RE_PRIME) != 0) {
            for (BiquadCascade filter : filters) {
                filter.prime(batch.forceN[0]); // every filter of the chain passes a constant unchanged
            }
            primed = true;
        }
        for (BiquadCascade filter : filters) {
            filter.process(batch.forceN, 0, batch.count);
        }
    }
}

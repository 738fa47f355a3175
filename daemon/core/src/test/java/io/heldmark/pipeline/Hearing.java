package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/** Keeps what a running station tells, and lets a test wait for it. */
class Hearing implements StationListener {
    final List<String> marks = new ArrayList<>();
    final List<String> zeros = new ArrayList<>();
    final List<String> notices = new ArrayList<>();
    final List<LinkHealth> health = new ArrayList<>();
    int channels;
    long samples;
    long gaps;
    boolean timeIncreases = true;
    private long newestNs = Long.MIN_VALUE;

    /** Waits until something is so; the test's time limit ends a wait in vain. */
    synchronized void await(Predicate<Hearing> wanted) throws InterruptedException {
        while (!wanted.test(this)) {
            wait();
        }
    }

    @Override
    public synchronized void onChannels(List<ChannelInfo> next, List<TraceFilter> traceFilters, long atNs) {
        channels = next.size();
        notifyAll();
    }

    @Override
    public synchronized void onSamples(SampleBatch trace) {
        samples += trace.count;
        gaps += trace.has(SampleBatch.GAP_BEFORE) ? 1 : 0;
        timeIncreases &= trace.timeNs[0] > newestNs;
        newestNs = trace.timeNs[trace.count - 1];
        notifyAll();
    }

    @Override
    public synchronized void onLinkHealth(LinkHealth next) {
        health.add(next);
        notifyAll();
    }

    @Override
    public synchronized void onZero(ZeroState zero) {
        zeros.add(zero.state());
        notifyAll();
    }

    @Override
    public synchronized void onMark(String text, long atNs) {
        marks.add(text);
        notifyAll();
    }

    @Override
    public synchronized void onNotice(String severity, String text, long atNs) {
        notices.add(severity + " " + text);
        notifyAll();
    }
}

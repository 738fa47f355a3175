package io.heldmark.pipeline;

import io.heldmark.live.EventJson;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.Level;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Every call of a listener as bytes: samples with all their bits, events as JSON. */
final class EventLog implements StationListener {
    final List<Contraction> contractions = new ArrayList<>();
    final List<LinkHealth> health = new ArrayList<>();
    final List<ZeroState> zeros = new ArrayList<>();
    final List<Effort> efforts = new ArrayList<>();
    final List<String> lines = new ArrayList<>();
    long samples;
    long gaps;
    long lastTimeNs = Long.MIN_VALUE;
    boolean timeIncreases = true;
    private final long[] newestNs = new long[64];
    private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    private final DataOutputStream out = new DataOutputStream(bytes);

    byte[] bytes() {
        return bytes.toByteArray();
    }

    @Override
    public void onChannels(List<ChannelInfo> channels, List<TraceFilter> filters, long atNs) {
        line(atNs + " " + EventJson.channels(channels, filters));
    }

    @Override
    public void onSamples(SampleBatch b) {
        try {
            out.writeInt(b.channel);
            out.writeInt(b.flags);
            out.writeLong(b.missingBefore);
            out.writeLong(b.firstSampleIndex);
            out.writeLong(b.arrivalNs);
            out.writeLong(Double.doubleToRawLongBits(b.timeStandardUncertaintyNs));
            for (int i = 0; i < b.count; i++) {
                out.writeLong(b.timeNs[i]);
                out.writeLong(Double.doubleToRawLongBits(b.forceN[i]));
                timeIncreases &= samplesOf(b.channel, b.timeNs[i]);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        samples += b.count;
        gaps += b.has(SampleBatch.GAP_BEFORE) ? 1 : 0;
    }

    private boolean samplesOf(int channel, long timeNs) {
        boolean later = timeNs > newestNs[channel];
        newestNs[channel] = timeNs;
        return later;
    }

    @Override
    public void onLevels(List<Level> levels, long atNs) {
        line(atNs + " " + EventJson.levels(levels));
    }

    @Override
    public void onContraction(Contraction c) {
        contractions.add(c);
        line(EventJson.contraction(c));
    }

    @Override
    public void onEffort(Effort e) {
        efforts.add(e);
        line(EventJson.effort(e));
    }

    @Override
    public void onLinkHealth(LinkHealth h) {
        health.add(h);
        line(h.atNs() + " " + EventJson.link(h));
    }

    @Override
    public void onZero(ZeroState z) {
        zeros.add(z);
        line(EventJson.zero(z, "N"));
    }

    @Override
    public void onMark(String text, long atNs) {
        line(EventJson.mark(text, atNs));
    }

    @Override
    public void onTrials(SaidConditions said, long atNs) {
        line(atNs + " " + ConditionsJson.event(said));
    }

    @Override
    public void onTarget(@Nullable Target target, long atNs) {
        line(atNs + " " + EventJson.target(target));
    }

    @Override
    public void onNotice(String severity, String text, long atNs) {
        line(atNs + " " + EventJson.notice(severity, text));
    }

    private void line(String text) {
        lines.add(text);
        try {
            out.write(text.getBytes(StandardCharsets.UTF_8));
            out.write('\n');
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

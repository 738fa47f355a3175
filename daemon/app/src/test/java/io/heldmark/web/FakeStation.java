package io.heldmark.web;

import io.heldmark.cell.CellReport;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.BoundaryChange;
import io.heldmark.pipeline.Review;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.DoubleFunction;
import org.jspecify.annotations.Nullable;

/** A station that writes down what it is asked; the web tests script it. */
final class FakeStation implements StationPort {
    final List<String> calls = new CopyOnWriteArrayList<>();
    final List<FakeViewer> viewers = new CopyOnWriteArrayList<>();
    final AtomicLong flushes = new AtomicLong();
    volatile boolean busy;
    volatile boolean broken;
    volatile @Nullable ReplayState replay;
    volatile RecordingState recording = RecordingState.OFF;
    volatile @Nullable Review review;
    volatile @Nullable String refusal;
    volatile @Nullable CellReport cell;
    volatile List<ChannelInfo> channels = List.of();
    volatile @Nullable DoubleFunction<@Nullable SteadyLevel> level;
    volatile @Nullable BoundCalibration used;
    volatile Path dataDir = Path.of("no-such-folder");

    @Override
    public String stationJson() {
        if (broken) {
            throw new IllegalStateException("secret detail /etc/heldmark");
        }
        return "{\"schema\":\"heldmark.live/1\"}";
    }

    @Override
    public List<ChannelInfo> channels() {
        return channels;
    }

    @Override
    public List<LinkHealth> linkHealth() {
        return List.of();
    }

    @Override
    public @Nullable CellReport cell(int channel) {
        return channel == 0 ? cell : null;
    }

    @Override
    public @Nullable SteadyLevel steadyLevel(int channel, double seconds, double toleranceCounts) {
        return level == null ? null : level.apply(toleranceCounts);
    }

    @Override
    public boolean useCalibration(BoundCalibration calibration) {
        calls.add("use " + calibration.id());
        used = calibration;
        return !busy;
    }

    @Override
    public String calibrationInUse(ChannelInfo channel) {
        BoundCalibration one = used;
        return one == null ? "" : one.id();
    }

    @Override
    public Path dataDir() {
        return dataDir;
    }

    @Override
    public boolean zero(List<Integer> channels) {
        if (channels.contains(9)) {
            throw new IllegalArgumentException("channel=9");
        }
        calls.add("zero " + channels);
        return !busy;
    }

    @Override
    public long mark(String text) {
        calls.add("mark " + text);
        return busy ? -1 : 1_500_000_000L;
    }

    @Override
    public boolean tap(List<Integer> channels, boolean forget) {
        calls.add("tap " + channels + (forget ? " forget" : ""));
        return !busy;
    }

    @Override
    public boolean trials(SaidConditions said) {
        calls.add("trials " + said.left().ownMaximumN() + " " + said.both().cue());
        return !busy;
    }

    @Override
    public boolean target(@Nullable Target target) {
        calls.add("target " + target);
        return !busy;
    }

    @Override
    public @Nullable Review review(long contractionId) {
        return contractionId == 7 ? review : null;
    }

    @Override
    public @Nullable String boundaryRefusal(BoundaryChange change) {
        return refusal;
    }

    @Override
    public boolean changeBoundary(BoundaryChange change) {
        calls.add("boundary " + change.kind() + " " + change.to());
        return !busy;
    }

    @Override
    public RecordingState recording() {
        return recording;
    }

    @Override
    public RecordingState startRecording() {
        calls.add("start");
        recording = new RecordingState("on", "a.pcapng", 512, 2_000_000_000L, true, null);
        return recording;
    }

    @Override
    public RecordingState stopRecording() {
        calls.add("stop");
        recording = RecordingState.OFF;
        return recording;
    }

    @Override
    public @Nullable ReplayState replayState() {
        return replay;
    }

    @Override
    public void pauseReplay(boolean paused) {
        calls.add("pause " + paused);
    }

    @Override
    public void replaySpeed(double speed) {
        calls.add("speed " + speed);
    }

    @Override
    public void restartReplay() {
        calls.add("restart");
    }

    @Override
    public ViewerPort join() {
        FakeViewer viewer = new FakeViewer();
        viewer.events.add("{\"type\":\"hello\"}");
        viewers.add(viewer);
        return viewer;
    }

    @Override
    public void onFlush(long nowNs) {
        flushes.incrementAndGet();
    }

    @Override
    public void writeMetrics(PrometheusText out) {
        out.gauge("heldmark_test", "A test.", "", 1.5);
    }

    List<String> takeCalls() {
        List<String> taken = new ArrayList<>(calls);
        calls.clear();
        return taken;
    }
}

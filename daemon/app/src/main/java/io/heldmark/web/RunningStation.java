package io.heldmark.web;

import io.heldmark.cell.CellReport;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.live.LiveFanout;
import io.heldmark.live.Viewer;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.BoundaryChange;
import io.heldmark.pipeline.Review;
import io.heldmark.pipeline.Station;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The real station behind the web. */
public final class RunningStation implements StationPort {
    private final Station station;
    private final LiveFanout live;

    /** Puts a station behind the web; it may be started later. */
    public RunningStation(Station station) {
        this.station = station;
        this.live = station.live();
    }

    @Override
    public String stationJson() {
        return live.stationJson();
    }

    @Override
    public List<ChannelInfo> channels() {
        return station.channels();
    }

    @Override
    public List<LinkHealth> linkHealth() {
        return station.linkHealth();
    }

    @Override
    public @Nullable CellReport cell(int channel) {
        return station.cell(channel);
    }

    @Override
    public @Nullable SteadyLevel steadyLevel(int channel, double seconds, double toleranceCounts) {
        return station.steadyLevel(channel, seconds, toleranceCounts);
    }

    @Override
    public boolean useCalibration(BoundCalibration calibration) {
        return station.useCalibration(calibration);
    }

    @Override
    public String calibrationInUse(ChannelInfo channel) {
        return station.calibrationInUse(channel);
    }

    @Override
    public Path dataDir() {
        return station.dataDir();
    }

    @Override
    public boolean zero(List<Integer> channels) {
        return station.zero(channels);
    }

    @Override
    public long mark(String text) {
        return station.mark(text);
    }

    @Override
    public boolean tap(List<Integer> channels, boolean forget) {
        return station.tap(channels, forget);
    }

    @Override
    public boolean trials(SaidConditions said) {
        return station.trials(said);
    }

    @Override
    public boolean target(@Nullable Target target) {
        return station.target(target);
    }

    @Override
    public @Nullable Review review(long contractionId) {
        return station.review(contractionId);
    }

    @Override
    public @Nullable String boundaryRefusal(BoundaryChange change) {
        return station.boundaryRefusal(change);
    }

    @Override
    public boolean changeBoundary(BoundaryChange change) {
        return station.changeBoundary(change);
    }

    @Override
    public RecordingState recording() {
        return station.recording();
    }

    @Override
    public RecordingState startRecording() {
        return station.startRecording();
    }

    @Override
    public RecordingState stopRecording() {
        return station.stopRecording();
    }

    @Override
    public @Nullable ReplayState replayState() {
        return station.replayState();
    }

    @Override
    public void pauseReplay(boolean paused) {
        station.pauseReplay(paused);
    }

    @Override
    public void replaySpeed(double speed) {
        station.replaySpeed(speed);
    }

    @Override
    public void restartReplay() {
        station.restartReplay();
    }

    @Override
    public ViewerPort join() {
        return new Joined(live.join());
    }

    @Override
    public void onFlush(long nowNs) {
        live.onFlush();
    }

    @Override
    public void writeMetrics(PrometheusText out) {
        StationMetrics.write(station, out);
    }

    private record Joined(Viewer viewer) implements ViewerPort {
        @Override
        public long nextMessage(ByteBuffer into) {
            return viewer.nextMessage(into);
        }

        @Override
        public @Nullable String nextEvent() {
            return viewer.nextEvent();
        }

        @Override
        public void sent(long sequence) {
            viewer.sent(sequence);
        }

        @Override
        public void painted(long sequence) {
            viewer.painted(sequence);
        }

        @Override
        public @Nullable String closeReason() {
            return viewer.closeReason();
        }

        @Override
        public void leave() {
            viewer.leave();
        }
    }
}

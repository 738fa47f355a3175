package io.heldmark.pipeline;

import io.heldmark.link.LinkState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An input of the station that is not bytes of a device. Each has a JSON form, under which it is recorded before it is
 * applied and from which a replay makes it again ({@link StationEventJson}).
 */
sealed interface StationEvent {
    /** Returns its station time. */
    long atNs();

    /** Hands it to the signal path. */
    void applyTo(StationCore core);

    /** A link changed its state. */
    record LinkChanged(int link, LinkState state, String reason, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onLinkState(link, state, reason, atNs);
        }
    }

    /** Somebody asked for the session zero; no channel named: of all. */
    record ZeroAsked(List<Integer> channels, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onZeroRequest(channels.stream().mapToInt(Integer::intValue).toArray(), atNs);
        }
    }

    /** A ping is about to be sent. */
    record PingSent(int link, int pingId, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onPingSent(link, pingId, atNs);
        }
    }

    /** Somebody asked to align two cells by a knock; no channel named: those of the left and the right limb. */
    record TapAsked(List<Integer> channels, boolean forget, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onTapRequest(channels, forget, atNs);
        }
    }

    /** Somebody set a mark. */
    record Marked(String text, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onMark(text, atNs);
        }
    }

    /** Somebody set or took away the target. */
    record TargetSet(@Nullable Target target, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onTarget(target, atNs);
        }
    }

    /** Somebody said something of the trials from now on, in place of what was said before. */
    record TrialsSaid(SaidConditions said, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onTrials(said, atNs);
        }
    }

    /** Somebody moved a boundary of a contraction, or took that back. */
    record BoundaryChanged(BoundaryChange change, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onBoundary(change, atNs);
        }
    }

    /** Somebody moved a boundary while the recording is played: kept beside it, never recorded. */
    record BoundaryChangedLater(BoundaryChange change, String movedAt, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onLaterBoundary(change, movedAt, atNs);
        }
    }

    /** Somebody chose the calibration of a device's channel from now on. */
    record CalibrationChosen(BoundCalibration calibration, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onCalibration(calibration, atNs);
        }
    }

    /** Time passed. */
    record ClockTick(long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onClock(atNs);
        }
    }

    /** The station itself lost bytes of a link. */
    record BytesLost(int link, long bytes, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onBytesLost(link, bytes, atNs);
        }
    }

    /** The recording began within the session, from this state. */
    record Resumed(ResumePoint point, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {
            core.onResume(point, atNs);
        }
    }

    /** Bytes were sent to a device; recorded, and no result depends on it. */
    @SuppressWarnings("ArrayRecordComponent") // Made for one call; equality is never asked of it.
    record BytesSent(int link, byte[] bytes, long atNs) implements StationEvent {
        @Override
        public void applyTo(StationCore core) {}

        @Override
        public String toString() {
            return "BytesSent[link=" + link + ", bytes=" + Arrays.toString(bytes) + ", atNs=" + atNs + "]";
        }
    }
}

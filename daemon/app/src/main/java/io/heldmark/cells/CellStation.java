package io.heldmark.cells;

import io.heldmark.cell.SteadyLevel;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ReplayState;
import io.heldmark.pipeline.BoundCalibration;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What calibrating needs of the station; methods may be called from any thread and do not block for long. */
public interface CellStation {
    /** Returns the channels known now. */
    List<ChannelInfo> channels();

    /** Returns where the replay stands; absent in a live station. */
    @Nullable ReplayState replayState();

    /** Returns the newest stretch of a cell's counts, see {@code Station.steadyLevel}. */
    @Nullable SteadyLevel steadyLevel(int channel, double seconds, double toleranceCounts);

    /** Uses a calibration from now on; false where it was not taken. */
    boolean useCalibration(BoundCalibration calibration);

    /** Returns which saved calibration a channel uses; empty where it uses none. */
    String calibrationInUse(ChannelInfo channel);

    /** Returns the folder of the station's data. */
    Path dataDir();
}

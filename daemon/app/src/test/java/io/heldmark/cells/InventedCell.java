package io.heldmark.cells;

import io.heldmark.cell.SteadyLevel;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.ReplayState;
import io.heldmark.pipeline.BoundCalibration;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;

/**
 * A station with one invented cell of known nonlinearity, hysteresis, creep, spread between mountings and noise; shares of its full
 * load.
 */
final class InventedCell implements CellStation {
    static final double FULL_N = 800;

    private final SplittableRandom random;
    private final Path dataDir;
    private final double zero;
    private final double slope;
    private final double bend;
    private final double lag;
    private final double creep;
    private final double mountingSd;
    private final double noise;
    private double mounting;
    private double shiftN;
    private double loadN;
    private boolean increasing = true;

    InventedCell(SplittableRandom random, double bendSize, Path dataDir) {
        this.random = random;
        this.dataDir = dataDir;
        zero = 20_000 * (random.nextDouble() - 0.5);
        slope = 200 + 2000 * random.nextDouble();
        bend = bendSize * (2 * random.nextDouble() - 1);
        lag = 4e-4 * random.nextDouble();
        creep = 2e-4 * random.nextDouble();
        mountingSd = 3e-4 * random.nextDouble();
        noise = (1e-5 + 2e-4 * random.nextDouble()) * FULL_N;
    }

    /** Takes the cell out and puts it in again: it is a little steeper or flatter, and its fixture weighs on it anew. */
    void mount() {
        mounting = mountingSd * random.nextGaussian();
        shiftN = 2 * random.nextDouble();
    }

    void load(double forceN, boolean reachedFromBelow) {
        loadN = forceN;
        increasing = reachedFromBelow;
    }

    /** Returns the mean of a stretch, some time after the load was put on. */
    double read() {
        double part = loadN / FULL_N;
        double bent = 4 * bend * part * (1 - part) + (increasing ? -0.5 : 0.5) * 4 * lag * part * (1 - part);
        double crept = creep * part * (1 - Math.exp(-20 * (0.5 + random.nextDouble()) / 30));
        double shown = loadN * (1 + mounting) + FULL_N * (bent + crept) + shiftN + noise * random.nextGaussian();
        return zero + slope * shown;
    }

    @Override
    public List<ChannelInfo> channels() {
        return List.of(new ChannelInfo(
                0, "tcp:a:1", "cell-7", 0, "left", Limb.LEFT, 1000, 0, 1000, "N", "factory", 0.002, 0.001));
    }

    @Override
    public @Nullable ReplayState replayState() {
        return null;
    }

    @Override
    public SteadyLevel steadyLevel(int channel, double seconds, double toleranceCounts) {
        return new SteadyLevel(read(), 5, 3000, seconds, true, 600, false);
    }

    @Override
    public boolean useCalibration(BoundCalibration calibration) {
        return true;
    }

    @Override
    public String calibrationInUse(ChannelInfo channel) {
        return "";
    }

    @Override
    public Path dataDir() {
        return dataDir;
    }
}

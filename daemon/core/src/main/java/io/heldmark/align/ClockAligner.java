package io.heldmark.align;

/**
 * Maps device ticks to station time by the earliest arrivals (first working form: offset only).
 */
public final class ClockAligner {
    private final double nsPerTick;
    private boolean ready;
    private long anchorTick;
    private long anchorNs;
    private double offsetNs;
    private double meanResidualNs;
    private long lastTick;

    /** Makes an aligner; ticks are already unwrapped. */
    public ClockAligner(double tickRateHz) {
        if (!(tickRateHz > 0 && tickRateHz <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException("tickRateHz must be finite and positive: tickRateHz=" + tickRateHz);
        }
        nsPerTick = 1e9 / tickRateHz;
    }

    /** Takes the arrival of a frame whose last sample was taken at a tick. */
    public void onArrival(long lastSampleTick, long arrivalNs) {
        if (!ready) {
            ready = true;
            anchorTick = lastSampleTick;
            anchorNs = arrivalNs;
        }
        double residualNs = (arrivalNs - anchorNs) - (lastSampleTick - anchorTick) * nsPerTick - offsetNs;
        double elapsedNs = Math.max(0, (lastSampleTick - lastTick) * nsPerTick);
        offsetNs += residualNs < 0 ? Math.max(residualNs, -0.01 * elapsedNs) : Math.min(residualNs, 2e-4 * elapsedNs);
        meanResidualNs += 0.05 * (Math.max(0, residualNs) - meanResidualNs);
        lastTick = lastSampleTick;
    }

    /** Takes a two-way exchange. */
    public void onPong(long pingSentNs, long receivedTick, long transmittedTick, long arrivalNs) {
        onArrival(transmittedTick, arrivalNs);
    }

    /** Tells whether {@link #stationNs} may be called. */
    public boolean ready() {
        return ready;
    }

    /** Returns the station time of a tick. */
    public long stationNs(long tick) {
        return anchorNs + StrictMath.round((tick - anchorTick) * nsPerTick + offsetNs);
    }

    /** Returns the standard uncertainty of {@link #stationNs}. */
    public double standardUncertaintyNs() {
        return 1e6 + 2 * meanResidualNs;
    }

    /** Returns the device clock against the station's. */
    public double skewPpm() {
        return Double.NaN;
    }

    /** Returns the spread of arrivals around the estimate. */
    public double arrivalJitterNs() {
        return meanResidualNs;
    }

    /** Returns how often the estimate was restarted. */
    public long restarts() {
        return 0;
    }

    /** Forgets everything but the count of restarts. */
    public void restart() {
        ready = false;
        offsetNs = 0;
        meanResidualNs = 0;
    }
}

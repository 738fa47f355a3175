package io.heldmark.calibrate;

/**
 * When a stretch of trace is quiet enough to be the session zero. Common practice, no published source; the reasons
 * stand in {@code docs/detection.md}.
 *
 * @param windowS length of the stretch, 0.5 to 10 s; a whole number of tenths.
 * @param waitS how long after a request a quiet stretch is waited for, 1 to 120 s.
 * @param limitSdN highest standard deviation of single samples, over 0 N: noise and hum of the cell.
 * @param limitWanderN widest spread of the 0.1-s means within the stretch, over 0 N, on top of what noise explains:
 *     movement of the limb.
 * @param limitSlopeNPerS fastest steady change, over 0 N/s: drift or a slow pull.
 */
public record SessionZeroConfig(
        double windowS, double waitS, double limitSdN, double limitWanderN, double limitSlopeNPerS) {
    /** Rejects settings under which no zero has a meaning. */
    public SessionZeroConfig {
        require(windowS >= 0.5 && windowS <= 10, "windowS is 0.5 to 10", windowS);
        require(waitS >= 1 && waitS <= 120, "waitS is 1 to 120", waitS);
        require(limitSdN > 0 && limitSdN <= 1e6, "limitSdN is over 0", limitSdN);
        require(limitWanderN > 0 && limitWanderN <= 1e6, "limitWanderN is over 0", limitWanderN);
        require(limitSlopeNPerS > 0 && limitSlopeNPerS <= 1e6, "limitSlopeNPerS is over 0", limitSlopeNPerS);
    }

    /** Returns the defaults. */
    public static SessionZeroConfig defaults() {
        return new SessionZeroConfig(1.0, 8.0, 8.0, 2.0, 2.0);
    }

    private static void require(boolean holds, String rule, double value) {
        if (!holds) {
            throw new IllegalArgumentException(rule + ": " + value);
        }
    }
}

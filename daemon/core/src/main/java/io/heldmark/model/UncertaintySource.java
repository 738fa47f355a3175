package io.heldmark.model;

/**
 * What a part of a device uncertainty comes from, as a stable word and as words for people.
 *
 * <p>A systematic part is the same in every repetition of a session: the mean of a set keeps it, while the others shrink
 * with the root of the number of repetitions.
 */
public enum UncertaintySource {
    /** Slope, or coefficients with their covariance. */
    CALIBRATION("calibration", "calibration of the cell", true),
    /** Load above the highest of the calibration. */
    BEYOND_RANGE("beyond-range", "load beyond the calibrated range", true),
    /** Session zero. */
    ZERO("zero", "session zero", true),
    /** Drift since the zero. */
    DRIFT("drift", "drift since the zero was taken", true),
    /** Level from which a rise is counted. */
    BASE("base", "resting level from which the force is counted", false),
    /** Rounding to one count. */
    RESOLUTION("resolution", "rounding to one count", false),
    /** Noise of the trace. */
    NOISE("noise", "noise of the trace", false),
    /** Instant at which force is read. */
    TIMING("timing", "instants at which the force is read", false),
    /** Clocks of two devices. */
    ALIGNMENT("alignment", "alignment of the devices' clocks", false),
    /** Place of a maximum among neighbours that noise cannot tell from it. */
    PLACE("place", "place of the highest stretch among its neighbours", false),
    /** Highest of many noisy readings, above the highest without noise. */
    LIFT("lift", "what noise lifts the highest of many readings by", false),
    /** Pull that is not along the line it should be. */
    PULL_MISALIGNMENT("pull-misalignment", "direction of the pull", true),
    /** Lever arm. */
    LEVER_ARM("lever-arm", "lever arm", true),
    /** Joint angle as set. */
    ANGLE_SETTING("angle-setting", "setting of the joint angle", true),
    /** Torque of the limb's weight. */
    GRAVITY("gravity", "torque of the limb's own weight", true),
    /** Body mass. */
    BODY_MASS("body-mass", "body mass", true),
    /** Left cell against right cell. */
    CELL_MISMATCH("cell-mismatch", "mismatch between the left and the right cell", true);

    private final String id;
    private final String text;
    private final boolean systematic;

    UncertaintySource(String id, String text, boolean systematic) {
        this.id = id;
        this.text = text;
        this.systematic = systematic;
    }

    /** Returns the stable word, for example {@code lever-arm}. */
    public String id() {
        return id;
    }

    /** Returns the words for people. */
    public String text() {
        return text;
    }

    /** Tells whether it is the same in every repetition of a session. */
    public boolean systematic() {
        return systematic;
    }
}

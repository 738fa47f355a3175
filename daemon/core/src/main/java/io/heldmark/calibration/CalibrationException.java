package io.heldmark.calibration;

/** Readings that give no calibration; the message is one line that says where, what and what to do. */
public final class CalibrationException extends Exception {
    private static final long serialVersionUID = 1;

    /** Refuses readings. */
    CalibrationException(String what) {
        super(what);
    }
}

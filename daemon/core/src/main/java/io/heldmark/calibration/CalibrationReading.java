package io.heldmark.calibration;

/**
 * One reading of the cell under a known load.
 *
 * @param run the series it belongs to: loads going up, and mostly down again, without taking the cell out.
 * @param mounting the mounting in which that series was taken; the same text for all where nobody says.
 * @param increasing whether the load was reached from below.
 * @param appliedN the applied load, in newtons.
 * @param counts the cell's reading.
 * @param line line of the file it stands in, for messages.
 */
public record CalibrationReading(
        String run, String mounting, boolean increasing, double appliedN, double counts, long line) {
    /** Rejects what is not a number. */
    public CalibrationReading {
        if (!(Math.abs(appliedN) <= Double.MAX_VALUE && Math.abs(counts) <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException("finite values are needed: appliedN=" + appliedN + ", counts=" + counts);
        }
    }

    boolean atZero() {
        return appliedN == 0;
    }
}

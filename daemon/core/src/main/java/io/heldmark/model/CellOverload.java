package io.heldmark.model;

/**
 * A cell carried more than it is rated for.
 *
 * @param channel station-wide channel number.
 * @param sinceNs time of the first sample above the rated load, station time; the same for all that is told of one overload.
 * @param peakN largest size of the force so far, from the calibration's zero, in newtons.
 * @param ratedN the rated load, in newtons.
 * @param atLeast whether the converter was at its end meanwhile, so that the true peak may be larger.
 */
public record CellOverload(int channel, long sinceNs, double peakN, double ratedN, boolean atLeast) {
    /** Returns the peak as a share of the rated load. */
    public double shareOfRated() {
        return peakN / ratedN;
    }
}

package io.heldmark.model;

import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * The samples of one channel around one contraction, read-only, for metrics.
 *
 * <p>Indices run from 0 to {@link #size()} - 1 over the kept samples, which begin before the onset and end after the
 * offset. Valid during the call that hands it over.
 */
public interface Window {
    /** Returns the number of samples. */
    int size();

    /** Returns the station time of a sample, in nanoseconds. */
    long timeNs(int index);

    /** Returns the force of a sample relative to the session zero, in newtons. */
    double forceN(int index);

    /** Tells whether samples are missing right before this one. */
    boolean gapBefore(int index);

    /** Copies the samples to the beginnings of arrays that have room for them. */
    default void copyTo(long[] times, double[] forces, boolean[] gaps) {
        for (int i = 0; i < size(); i++) {
            times[i] = timeNs(i);
            forces[i] = forceN(i);
            gaps[i] = gapBefore(i);
        }
    }

    /** Returns the samples as arrays that nobody may write to: copies, unless the window is made of arrays. */
    default SampleArrays samples() {
        return SampleArrays.copyOf(this);
    }

    /** Returns the index of the first sample at or after the onset. */
    int onsetIndex();

    /** Returns the index of the last sample at or before the offset. */
    int offsetIndex();

    /** Returns the station time of the onset, in nanoseconds; it lies between samples as a rule. */
    long onsetNs();

    /** Returns the station time at which the release began, in nanoseconds. */
    long releaseStartNs();

    /** Returns the station time of the offset, in nanoseconds. */
    long offsetNs();

    /** Returns the standard uncertainty of the onset within the channel's own time, in nanoseconds. */
    double onsetStandardUncertaintyNs();

    /**
     * Returns the standard uncertainty of the release's beginning within the channel's own time, in nanoseconds; NaN where it
     * is not known.
     */
    default double releaseStartStandardUncertaintyNs() {
        return Double.NaN;
    }

    /** Returns the standard uncertainty of the offset within the channel's own time, in nanoseconds. */
    double offsetStandardUncertaintyNs();

    /** Returns the standard uncertainty of the channel's time against station time, in nanoseconds. */
    double timeStandardUncertaintyNs();

    /** Returns the force right before the contraction, relative to the session zero, in newtons. */
    double restingLevelN();

    /** Returns the standard deviation of the rest before the contraction, in newtons. */
    double restingNoiseN();

    /**
     * Returns how many successive resting samples count as one independent sample (the integrated autocorrelation, at
     * least 1): the mean of n samples has the standard uncertainty restingNoiseN / sqrt(n / this).
     */
    double restingCorrelationSamples();

    /** Returns the nominal sample rate, in hertz. */
    double sampleRateHz();

    /** Returns the channel. */
    ChannelInfo channel();

    /** Returns the standard uncertainty of the session zero, in newtons. */
    default double zeroStandardUncertaintyN() {
        return zero().standardUncertaintyN();
    }

    /** Returns what the plan or the user says of the trial; {@link TestConditions#UNKNOWN} where nobody does. */
    TestConditions conditions();

    /** Returns what was noticed while the window was found and its boundaries refined; metrics may refuse because of it. */
    default Set<ContractionFlag> flags() {
        return Set.of();
    }

    /** Returns what the cells under a plate carried, where the channel is a plate on cells whose places are given. */
    default @Nullable PlateForces plate() {
        return null;
    }

    /** Returns what the forces are relative to. */
    ZeroReference zero();
}

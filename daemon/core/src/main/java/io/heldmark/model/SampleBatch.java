package io.heldmark.model;

/**
 * Consecutive samples of one channel on the station's time line; a structure of arrays that is reused.
 *
 * <p><b>Lifetime.</b> Valid during the call that hands it over; whoever keeps samples copies them.
 *
 * <p><b>Time.</b> Sample {@code i} was taken at {@code timeNs[i]}, nanoseconds since the start of the station,
 * strictly increasing within a batch and from batch to batch of one channel.
 *
 * <p><b>Gaps.</b> A gap is a flag of the batch that follows it, never a NaN and never an invented sample.
 */
public final class SampleBatch {
    /** Samples are missing between the batch before and this one. */
    public static final int GAP_BEFORE = 1;
    /** The converter reached the end of its range in this batch. */
    public static final int OVERLOAD = 2;
    /** The converter reported a fault in this batch. */
    public static final int ADC_FAULT = 4;
    /** The clock estimate was restarted: times before and after are not comparable to better than their uncertainty. */
    public static final int CLOCK_RESTARTED = 8;
    /** Values were resampled from channels of different devices. */
    public static final int RESAMPLED = 16;

    /** Station-wide channel number. */
    public int channel;
    /** Number of valid samples, 0 to {@link #capacity()}. */
    public int count;
    /** Set of the flags above. */
    public int flags;
    /** Running number of the first sample on its device since the link came up, lost samples counted. */
    public long firstSampleIndex;
    /** Samples missing before this batch; 0 without {@link #GAP_BEFORE}; -1 where the number is not known. */
    public long missingBefore;
    /** Arrival of the bytes that completed this batch, station time. */
    public long arrivalNs;
    /** Standard uncertainty of the times of this batch against station time, in nanoseconds. */
    public double timeStandardUncertaintyNs;
    /** Nominal time between two samples, in nanoseconds. */
    public double periodNs;
    /** Time of each sample, station time. */
    public final long[] timeNs;
    /** Force of each sample relative to the session zero, in newtons (or counts while uncalibrated). */
    public final double[] forceN;

    /** Makes an empty batch that can hold {@code capacity} samples. */
    public SampleBatch(int capacity) {
        timeNs = new long[capacity];
        forceN = new double[capacity];
    }

    /** Returns the number of samples that fit. */
    public int capacity() {
        return timeNs.length;
    }

    /** Copies everything but the channel's number into a batch that has room for it. */
    public void copyTo(SampleBatch other) {
        other.count = count;
        other.flags = flags;
        other.firstSampleIndex = firstSampleIndex;
        other.missingBefore = missingBefore;
        other.arrivalNs = arrivalNs;
        other.timeStandardUncertaintyNs = timeStandardUncertaintyNs;
        other.periodNs = periodNs;
        System.arraycopy(timeNs, 0, other.timeNs, 0, count);
        System.arraycopy(forceN, 0, other.forceN, 0, count);
    }

    /** Tells whether a flag is set. */
    public boolean has(int flag) {
        return (flags & flag) != 0;
    }
}

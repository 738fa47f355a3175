package io.heldmark.calibrate;

import io.heldmark.model.SampleBatch;
import org.jspecify.annotations.Nullable;

/**
 * Adds up the levels of several channels at the times of the first: a virtual channel.
 *
 * <p><b>Formula.</b> level(t) = sum of factor_i x level_i(t), in the order of the terms. Terms of one device frame have the
 * same times and are added as they are. Terms of other devices are interpolated on a straight line between their two samples
 * around t, and the batch says so ({@link SampleBatch#RESAMPLED}): between samples T apart a force that curves by c N/s2
 * is off by at most c T^2 / 8 (the error of linear interpolation, Davis, Interpolation and Approximation, 1963, 3.1.3; from memory).
 *
 * <p><b>Gaps.</b> Where a term has none on both sides of t, the sum has no sample either, and the next one follows a gap.
 *
 * <p><b>Uncertainty.</b> {@link #relativeU}: where all terms push the same way, |sum a_i F_i e_i| <= max u_i x |sum a_i F_i| for
 * relative errors e_i of size u_i, whatever their correlation and however the load is shared; so the largest of the terms'
 * uncertainties holds. Of a difference nothing relative can be said, because it may be near zero: NaN. {@link #resolution}: the
 * roundings are independent, so their squares add up. Noise and zero are measured on the sum itself.
 *
 * <p><b>Threading.</b> Single writer; nothing is allocated after construction.
 */
public final class LevelSum {
    private static final int CAPACITY = 8192;
    private static final int BATCH_CAPACITY = 31;

    /** Takes the sum, batch by batch. */
    @FunctionalInterface
    public interface Taker {
        /** Takes a batch of levels, without any session zero; reused after the call. */
        void onLevels(SampleBatch levels);
    }

    /** Takes what the terms were at each sample of the sum, before the sum itself is handed over. */
    @FunctionalInterface
    public interface Terms {
        /** Takes the levels of the terms at a time, without any session zero; the array is reused after the call. */
        void onTerms(long timeNs, double[] levels);
    }

    private final double[] factors;
    private final boolean[] elsewhere;
    private final LevelRing[] rings;
    private final Taker taker;
    private final SampleBatch batch = new SampleBatch(BATCH_CAPACITY);
    private final long[] times = new long[CAPACITY];
    private final boolean[] gapAt = new boolean[CAPACITY];
    private final double[] timeU;
    private final double[] levelAt;
    private @Nullable Terms terms;
    private long head;
    private long tail;
    private boolean gap;
    private int flags;
    private long index;

    /**
     * Makes a sum.
     *
     * @param factors factor of each term.
     * @param elsewhere whether a term comes from another link than the first.
     * @param taker takes the sum.
     */
    public LevelSum(double[] factors, boolean[] elsewhere, Taker taker) {
        this.factors = factors.clone();
        this.elsewhere = elsewhere.clone();
        this.taker = taker;
        rings = new LevelRing[factors.length];
        for (int i = 0; i < rings.length; i++) {
            rings[i] = new LevelRing(CAPACITY);
        }
        timeU = new double[factors.length];
        levelAt = new double[factors.length];
    }

    /** Hands the terms over too from now on; with absent, no longer. */
    public void keepTerms(@Nullable Terms to) {
        terms = to;
    }

    /**
     * Takes the samples of one term.
     *
     * @param term number of the term.
     * @param samples its samples.
     * @param sessionZeroN what has been subtracted from them.
     */
    public void add(int term, SampleBatch samples, double sessionZeroN) {
        int broken = SampleBatch.GAP_BEFORE | SampleBatch.CLOCK_RESTARTED;
        for (int i = 0; i < samples.count; i++) {
            boolean afterGap = i == 0 && (samples.flags & broken) != 0;
            rings[term].add(samples.timeNs[i], samples.forceN[i] + sessionZeroN, afterGap);
            if (term == 0) {
                queue(samples.timeNs[i], afterGap);
            }
        }
        timeU[term] = samples.timeStandardUncertaintyNs;
        flags |= samples.flags & (SampleBatch.OVERLOAD | SampleBatch.ADC_FAULT | SampleBatch.CLOCK_RESTARTED);
        batch.arrivalNs = Math.max(batch.arrivalNs, samples.arrivalNs);
        batch.periodNs = term == 0 ? samples.periodNs : batch.periodNs;
        emit();
    }

    private void queue(long timeNs, boolean afterGap) {
        if (head - tail == CAPACITY) {
            tail++; // Another term has been silent for long: what is this old is given up.
            gap = true;
        }
        int slot = (int) (head++ % CAPACITY);
        times[slot] = timeNs;
        gapAt[slot] = afterGap;
    }

    private void emit() {
        long readyNs = Long.MAX_VALUE;
        for (LevelRing ring : rings) {
            readyNs = Math.min(readyNs, ring.newestNs());
        }
        batch.count = 0;
        while (tail < head && times[(int) (tail % CAPACITY)] <= readyNs) {
            int slot = (int) (tail++ % CAPACITY);
            double sum = sumAt(times[slot]);
            boolean whole = !Double.isNaN(sum);
            if ((!whole || gapAt[slot]) && batch.count > 0) {
                hand();
            }
            gap |= !whole || gapAt[slot];
            index++;
            if (whole) {
                if (terms != null) {
                    terms.onTerms(times[slot], levelAt);
                }
                batch.timeNs[batch.count] = times[slot];
                batch.forceN[batch.count++] = sum;
                if (batch.count == BATCH_CAPACITY) {
                    hand();
                }
            }
        }
        if (batch.count > 0) {
            hand();
        }
    }

    private double sumAt(long timeNs) {
        double sum = 0;
        for (int i = 0; i < rings.length; i++) {
            levelAt[i] = rings[i].at(timeNs);
            sum += factors[i] * levelAt[i];
        }
        return sum;
    }

    private void hand() {
        batch.flags = flags | (gap ? SampleBatch.GAP_BEFORE : 0);
        batch.missingBefore = gap ? -1 : 0;
        batch.firstSampleIndex = index - batch.count;
        double widest = 0;
        for (int i = 0; i < rings.length; i++) {
            batch.flags |= elsewhere[i] ? SampleBatch.RESAMPLED : 0;
            widest = Math.max(widest, timeU[i]);
        }
        batch.timeStandardUncertaintyNs = widest;
        taker.onLevels(batch);
        batch.count = 0;
        gap = false;
        flags = 0;
    }

    /**
     * Returns the relative standard uncertainty of a sum.
     *
     * @param factors factors of the terms.
     * @param relativeU relative standard uncertainties of the terms' slopes; NaN where unknown.
     * @return the largest; NaN where one is unknown or the factors have both signs.
     */
    public static double relativeU(double[] factors, double[] relativeU) {
        double largest = 0;
        for (int i = 0; i < factors.length; i++) {
            boolean sameWay = factors[i] * factors[0] > 0;
            largest = sameWay && relativeU[i] >= 0 ? Math.max(largest, relativeU[i]) : Double.NaN;
        }
        return largest;
    }

    /** Returns the resolution of a sum of independent roundings: the root of the sum of the squares. */
    public static double resolution(double[] factors, double[] resolutions) {
        double squares = 0;
        for (int i = 0; i < factors.length; i++) {
            squares += factors[i] * factors[i] * resolutions[i] * resolutions[i];
        }
        return Math.sqrt(squares);
    }
}

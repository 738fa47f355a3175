package io.heldmark.align;

/**
 * The lower envelope of points over a sliding window, in bounded memory.
 *
 * <p><b>Points.</b> {@code x} is device time, {@code z} station time minus device time, both in nanoseconds from an anchor.
 * A delayed arrival lies above the line {@code z = offset + skew x} that an arrival without delay would fall on, never
 * below. (For the way to the device, where every ping lies below, the caller turns the sign of {@code z}.)
 *
 * <p><b>Method.</b> Time is cut into at most {@value #BINS} bins; each keeps its lowest point, measured along the current
 * skew. Bins start at {@value #FIRST_BIN_NS} ns and double, by merging pairs, until they are {@value #LAST_BIN_NS} ns
 * long; from then on the oldest bin is dropped. So the window grows with the session to a little over four minutes.
 * Skew is that of the facet of the lower convex hull over the middle of the window: of all lines below all points the one
 * with the smallest sum of distances.
 *
 * <p><b>Cost.</b> Adding is constant time but for the merge; the lowest point takes one pass over the bins. So does the hull where
 * bins came or went; else it is that of all bins but the newest, which is kept, and the newest point. Nothing is allocated after
 * construction.
 *
 * <p><b>Source.</b> Moon, Skelly and Towsley, Estimation and removal of clock skew from network delay measurements, IEEE
 * INFOCOM 1999, 227-234 (the line below all points); Zhang, Liu and Xia, Clock synchronization algorithms for network
 * measurements, IEEE INFOCOM 2002 (convex hull). The hull is Andrew's monotone chain (1979, from memory).
 */
final class EnvelopeWindow {
    static final int BINS = 64;
    static final double FIRST_BIN_NS = 0.25e9;
    static final double LAST_BIN_NS = 4e9;

    /** Of 0.5 to 4, measured on synthetic arrivals, the first that no longer costs accuracy on locked links. */
    static final double AGE_PENALTY = 3;

    /** 2^53: whole numbers below it are exact. */
    private static final double EXACT_NS = 9_007_199_254_740_992.0;

    private final double[] x = new double[BINS];
    private final double[] z = new double[BINS];
    private final int[] counts = new int[BINS];
    private final double[] scratch = new double[BINS];
    private final int[] hull = new int[BINS];
    private double binNs = FIRST_BIN_NS;
    private long newestBin;
    /** Where the newest bin begins and ends, while that is exact. */
    private double binBeginsX = Double.NaN;

    private double binEndsX = Double.NaN;
    private int bins;
    private int points;
    private boolean changed;
    /** How many of the oldest points the kept hull is of, and how many of them are its corners. */
    private int hullOf;

    private int corners;
    private double touchX;
    private double skew; // of the hull, along which lowest is measured when adding
    private double looseNs;

    /** Forgets everything. */
    void clear() {
        bins = 0;
        points = 0;
        hullOf = 0;
        corners = 0;
        changed = true;
        binNs = FIRST_BIN_NS;
        binBeginsX = Double.NaN;
        binEndsX = Double.NaN;
        skew = 0;
        looseNs = 0;
    }

    /**
     * Adds a point; one that is older than the newest bin is left out, as it came late and so says little.
     *
     * @param alongSkew skew along which points of one bin are compared.
     * @return whether a new bin was begun.
     */
    boolean add(double pointX, double pointZ, double alongSkew) {
        if (pointX >= binBeginsX && pointX < binEndsX) {
            keepLower(bins - 1, pointX, pointZ, alongSkew);
            addCount(bins - 1);
            return false;
        }
        long bin = (long) Math.floor(pointX / binNs);
        if (bins > 0 && bin < newestBin) {
            return false;
        }
        if (bins > 0 && bin == newestBin) {
            keepLower(bins - 1, pointX, pointZ, alongSkew);
            addCount(bins - 1);
            return false;
        }
        makeRoom(pointX, alongSkew);
        x[bins] = pointX;
        z[bins] = pointZ;
        counts[bins] = 0;
        addCount(bins);
        bins++;
        changed = true;
        newestBin = (long) Math.floor(pointX / binNs);
        placeBin();
        return true;
    }

    private void addCount(int bin) {
        counts[bin]++;
        points++;
    }

    /**
     * Notes where the newest bin begins and ends, so that most points find it without a division. Both are whole numbers of
     * nanoseconds and exact below {@value #EXACT_NS}; a point below an exact multiple of the bin is below it by more than the
     * rounding of the quotient, so that this gives the bin that the quotient gives.
     */
    private void placeBin() {
        binBeginsX = newestBin * binNs;
        binEndsX = (newestBin + 1) * binNs;
        if (!(binBeginsX >= 0 && binEndsX < EXACT_NS)) {
            binBeginsX = Double.NaN;
            binEndsX = Double.NaN;
        }
    }

    /** Returns the number of bins in use. */
    int bins() {
        return bins;
    }

    /** Returns the number of points in the window, those included that are not kept. */
    int points() {
        return points;
    }

    /** Returns the time between the first and the last kept point, in nanoseconds. */
    double spanNs() {
        return bins < 2 ? 0 : x[bins - 1] - x[0];
    }

    /** Recomputes hull and looseness, where a kept point has changed. */
    void fit() {
        if (!changed) {
            return;
        }
        changed = false;
        if (bins < 2) {
            skew = 0;
            looseNs = 0;
            return;
        }
        int older = cornersBeforeNewest();
        double middle = x[0] + spanNs() / 2;
        int k = 1;
        while (k < older && x[hull[k]] < middle) {
            k++;
        }
        int a = hull[k - 1];
        int b = k < older ? hull[k] : bins - 1;
        skew = (z[b] - z[a]) / (x[b] - x[a]);
        double offset = z[a] - skew * x[a];
        for (int i = 0; i < bins; i++) {
            scratch[i] = z[i] - offset - skew * x[i];
        }
        looseNs = InPlaceSort.pick(scratch, bins, bins / 2, looseNs);
    }

    /** Returns the skew of the hull as of the last {@link #fit}. */
    double skew() {
        return skew;
    }

    /** Returns by how much the lowest point of a typical bin lies above the hull's line, in nanoseconds. */
    double looseNs() {
        return looseNs;
    }

    /**
     * Returns the offset of the line of a skew that touches the lowest point; infinite without points.
     *
     * <p>Points count as higher by {@value #AGE_PENALTY} times {@code skewUncertainty} times their age, because the skew is not known better than that:
     * of two points that are equal but for its error the younger one should carry the line.
     */
    double offset(double lineSkew, double nowX, double skewUncertainty) {
        double lowest = Double.POSITIVE_INFINITY;
        double offset = Double.POSITIVE_INFINITY;
        for (int i = 0; i < bins; i++) {
            double candidate = z[i] - lineSkew * x[i];
            double penalised = candidate + AGE_PENALTY * skewUncertainty * (nowX - x[i]);
            if (penalised <= lowest) {
                lowest = penalised;
                offset = candidate;
                touchX = x[i];
            }
        }
        return offset;
    }

    /** Returns the time of the point that carried the line of the last {@link #offset}. */
    double touchX() {
        return touchX;
    }

    /** Returns by how much the lowest point after a time lies above a line; infinite where there is none. */
    double slackSince(double sinceX, double lineOffset, double lineSkew) {
        double lowest = Double.POSITIVE_INFINITY;
        for (int i = bins - 1; i >= 0 && x[i] >= sinceX; i--) {
            lowest = Math.min(lowest, z[i] - lineOffset - lineSkew * x[i]);
        }
        return lowest;
    }

    private void keepLower(int i, double pointX, double pointZ, double alongSkew) {
        if (pointZ - alongSkew * pointX < z[i] - alongSkew * x[i]) {
            x[i] = pointX;
            z[i] = pointZ;
            changed = true;
        }
    }

    /** Leaves room for one bin more and no bin that is older than the window. */
    private void makeRoom(double pointX, double alongSkew) {
        if (bins == BINS && binNs < LAST_BIN_NS) {
            mergePairs(alongSkew);
        }
        int drop = bins == BINS ? 1 : 0;
        while (drop < bins && x[drop] < pointX - BINS * LAST_BIN_NS) {
            drop++;
        }
        if (drop == 0) {
            return;
        }
        for (int i = 0; i < drop; i++) {
            points -= counts[i];
        }
        hullOf = 0;
        corners = 0;
        System.arraycopy(x, drop, x, 0, bins - drop);
        System.arraycopy(z, drop, z, 0, bins - drop);
        System.arraycopy(counts, drop, counts, 0, bins - drop);
        bins -= drop;
    }

    private void mergePairs(double alongSkew) {
        binNs *= 2;
        hullOf = 0;
        corners = 0;
        int last = 0;
        for (int i = 1; i < bins; i++) {
            if (Math.floor(x[i] / binNs) == Math.floor(x[last] / binNs)) {
                keepLower(last, x[i], z[i], alongSkew);
                counts[last] += counts[i];
            } else {
                last++;
                x[last] = x[i];
                z[last] = z[i];
                counts[last] = counts[i];
            }
        }
        bins = last + 1;
    }

    /**
     * Brings the kept hull, of all points but the newest, up to date; returns how many of its corners stay corners when the
     * newest point becomes the last one.
     */
    private int cornersBeforeNewest() {
        while (hullOf < bins - 1) {
            corners = cornersBefore(hullOf);
            hull[corners++] = hullOf++;
        }
        return cornersBefore(bins - 1);
    }

    private int cornersBefore(int point) {
        int n = corners;
        while (n >= 2 && !turnsUp(hull[n - 2], hull[n - 1], point)) {
            n--;
        }
        return n;
    }

    private boolean turnsUp(int a, int b, int c) {
        return (z[b] - z[a]) * (x[c] - x[a]) < (z[c] - z[a]) * (x[b] - x[a]);
    }
}

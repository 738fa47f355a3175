package io.heldmark.align;

/**
 * The events of a link that carries data both ways at once, found by pings.
 *
 * <p><b>Idea.</b> A radio link speaks at its connection events: what waits for either side crosses then. A ping is received
 * at the first event after it was sent, and the first frames that arrive after it was sent crossed at that same event. So
 * (arrival of these frames) minus (device time of the ping's reception) is the clock's line but for the difference of the
 * two constant delays, up minus down. How long ping and frames waited for the event plays no part: the rhythm that
 * hides delays from one-way arrivals does no harm here, and few pings are enough.
 *
 * <p><b>Where it holds.</b> On a cable a ping does not wait for the next frames, and the difference is spread as widely as
 * the time from ping to frames. Where frames come at every second event or more rarely, the first frames are often of
 * a later event. Both show: the shortest interval that holds {@value #SHARE} of the differences is then not shorter than
 * {@value #CONCENTRATION} of the same interval of the times from ping to frames, and nothing is claimed.
 *
 * <p><b>Method.</b> Of the points of the last {@value #WINDOW_NS} ns those within {@value #KEPT} half widths of that
 * shortest interval's middle are kept, and a straight line is fitted to them by least squares, {@value #PASSES} times over.
 * Later events, lost frames and stalls of the station are single points far off and drop out. Of the
 * pings of one event, whose errors are one another's, the first is taken.
 *
 * <p><b>Source.</b> Both directions of a connection event begin at one anchor point: Bluetooth Core Specification, Vol 6,
 * Part B, 4.5.1 (from memory). Shortest interval: Rousseeuw and Leroy, Robust Regression and Outlier Detection, Wiley
 * 1987, chapter 4 (from memory), there with half of the points. Use for clocks: common sense without a published source.
 *
 * <p><b>Cost.</b> A fit sorts up to {@value #RING} numbers a few times; nothing is allocated after construction.
 */
final class EventMatch {
    static final int RING = 256;
    static final int ENOUGH = 16;
    static final double SHARE = 0.6;
    static final double CONCENTRATION = 0.25;
    static final double WINDOW_NS = 60e9;
    static final double KEPT = 3;
    static final int PASSES = 3;

    /** Largest correction of the skew: what waits for the end of a stall lies on a straight line too, of slope -1. */
    static final double SKEW_RANGE = 0.5e-3;

    private static final int RENEWED = 16;
    private static final int ARRIVALS = 128;
    private static final double LEAST_HALF_WIDTH_NS = 10e3;

    private final double[] arrivals = new double[ARRIVALS];
    private double newestArrivalNs = Double.NaN;
    private int arrivalCount;
    private int nextArrival;
    private final double[] x = new double[RING];
    private final double[] z = new double[RING];
    private final double[] waits = new double[RING];
    private final double[] scratch = new double[RING];
    private double newestFirstNs;
    private int count;
    private int next;
    private int sinceFit;

    private boolean ready;
    private double middle;
    private double halfWidth;
    private double skew;
    private double skewUncertainty;
    private double meanX;
    private double meanZ;
    private double meanUncertainty;

    /** Forgets everything. */
    void clear() {
        newestArrivalNs = Double.NaN;
        arrivalCount = 0;
        nextArrival = 0;
        count = 0;
        next = 0;
        sinceFit = 0;
        ready = false;
    }

    /** Takes the arrival of a frame, from the anchor. */
    void addFrame(double arrivalNs) {
        if (newestArrivalNs >= arrivalNs) {
            return; // More of the same burst.
        }
        newestArrivalNs = arrivalNs;
        arrivals[nextArrival] = arrivalNs;
        nextArrival = (nextArrival + 1) & (ARRIVALS - 1);
        if (arrivalCount < ARRIVALS) {
            arrivalCount++;
        }
    }

    /** Takes an answered ping: when it was sent, from the anchor, and device time of its reception. */
    void addPing(double sentNs, double receivedX) {
        double firstNs = Double.POSITIVE_INFINITY;
        for (int i = 1; i <= arrivalCount; i++) {
            double arrivalNs = arrivals[(nextArrival + ARRIVALS - i) % ARRIVALS];
            if (arrivalNs <= sentNs) {
                add(firstNs, sentNs, receivedX);
                return;
            }
            firstNs = arrivalNs;
        }
        // Which frames came first after the ping is not known any more.
    }

    private void add(double firstNs, double sentNs, double receivedX) {
        if (firstNs > Double.MAX_VALUE) {
            return; // No frame came between ping and answer.
        }
        if (count > 0 && firstNs == newestFirstNs) {
            return; // Of the same event, or one of many that waited for the end of a stall.
        }
        newestFirstNs = firstNs;
        sinceFit++;
        x[next] = receivedX;
        z[next] = firstNs - receivedX;
        waits[next] = firstNs - sentNs;
        next = (next + 1) % RING;
        count = Math.min(count + 1, RING);
    }

    /**
     * Fits the line anew, where more than one in {@value #RENEWED} points is new.
     *
     * @param otherSkew best skew without this fit, to begin with.
     * @param nowX newest device time.
     */
    void fit(double otherSkew, double nowX) {
        if (sinceFit <= count / RENEWED) {
            ready &= nowX - meanX < WINDOW_NS;
            return;
        }
        sinceFit = 0;
        int inWindow = 0;
        for (int i = 0; i < count; i++) {
            if (x[i] >= nowX - WINDOW_NS) {
                scratch[inWindow++] = waits[i];
            }
        }
        if (inWindow < ENOUGH) {
            ready = false;
            return;
        }
        findShortest(inWindow);
        double uncorrelatedNs = halfWidth;
        skew = otherSkew;
        ready = true;
        for (int pass = 0; pass < PASSES && ready; pass++) {
            pass(nowX);
            skew = Math.max(otherSkew - SKEW_RANGE, Math.min(otherSkew + SKEW_RANGE, skew));
        }
        ready &= halfWidth <= CONCENTRATION * uncorrelatedNs;
    }

    private void pass(double nowX) {
        int n = 0;
        for (int i = 0; i < count; i++) {
            if (x[i] >= nowX - WINDOW_NS) {
                scratch[n++] = z[i] - skew * x[i];
            }
        }
        findShortest(n);
        double keptNs = KEPT * Math.max(LEAST_HALF_WIDTH_NS, halfWidth);
        int kept = 0;
        double sumX = 0;
        double sumR = 0;
        for (int i = 0; i < count; i++) {
            double residual = z[i] - skew * x[i] - middle;
            if (x[i] >= nowX - WINDOW_NS && Math.abs(residual) <= keptNs) {
                kept++;
                sumX += x[i];
                sumR += residual;
            }
        }
        meanX = sumX / kept;
        fitKept(nowX, keptNs, sumR / kept, kept);
    }

    private void fitKept(double nowX, double keptNs, double meanR, int kept) {
        double sxx = 0;
        double sxr = 0;
        double srr = 0;
        for (int i = 0; i < count; i++) {
            double residual = z[i] - skew * x[i] - middle;
            if (x[i] >= nowX - WINDOW_NS && Math.abs(residual) <= keptNs) {
                double dx = x[i] - meanX;
                double dr = residual - meanR;
                sxx += dx * dx;
                sxr += dx * dr;
                srr += dr * dr;
            }
        }
        ready = sxx > 0;
        if (!ready) {
            return;
        }
        double variance = Math.max(0, srr - sxr * sxr / sxx) / (kept - 2);
        meanZ = meanR + middle + skew * meanX;
        meanUncertainty = Math.sqrt(variance / kept);
        skew += sxr / sxx;
        skewUncertainty = Math.sqrt(variance / sxx);
    }

    /** Finds the shortest interval that holds the share of the first n numbers in scratch. */
    private void findShortest(int n) {
        InPlaceSort.sort(scratch, n);
        int steps = (int) StrictMath.ceil(SHARE * n) - 1;
        int best = 0;
        for (int i = 1; i + steps < n; i++) {
            if (scratch[i + steps] - scratch[i] < scratch[best + steps] - scratch[best]) {
                best = i;
            }
        }
        halfWidth = (scratch[best + steps] - scratch[best]) / 2;
        middle = scratch[best] + halfWidth;
    }

    /** Tells whether the link carries both ways at once, as far as the last {@link #fit} saw. */
    boolean ready() {
        return ready;
    }

    /** Returns the skew of the line. */
    double skew() {
        return skew;
    }

    /** Returns its standard uncertainty. */
    double skewUncertainty() {
        return skewUncertainty;
    }

    /** Returns the offset of the line of another skew through the middle of the points. */
    double offset(double otherSkew) {
        return meanZ - otherSkew * meanX;
    }

    /** Returns the device time of the middle of the points, from which an error of the skew grows. */
    double meanX() {
        return meanX;
    }

    /** Returns the standard uncertainty of the line there, in nanoseconds, equal delays both ways taken for granted. */
    double meanUncertaintyNs() {
        return meanUncertainty;
    }
}

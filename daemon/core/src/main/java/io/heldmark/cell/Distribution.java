package io.heldmark.cell;

import java.util.ArrayList;
import java.util.List;
import org.HdrHistogram.Histogram;

/**
 * A distribution of times in a few numbers and as a histogram.
 *
 * @param count how many.
 * @param p50Ns median, in nanoseconds; 0 without any.
 * @param p95Ns 95th percentile.
 * @param p99Ns 99th percentile.
 * @param maxNs greatest.
 * @param bins the histogram, bins without values left out.
 */
public record Distribution(long count, long p50Ns, long p95Ns, long p99Ns, long maxNs, List<Bin> bins) {
    private static final double BINS_A_DECADE = 12;

    /**
     * One bin of equal width on a logarithmic scale, twelve a decade.
     *
     * @param fromNs lower end, included.
     * @param toNs upper end, not included.
     * @param count how many.
     */
    public record Bin(long fromNs, long toNs, long count) {}

    static Distribution of(Histogram h) {
        if (h.getTotalCount() == 0) {
            return new Distribution(0, 0, 0, 0, 0, List.of());
        }
        List<Bin> bins = new ArrayList<>();
        long first = Math.max(1, h.getMinNonZeroValue());
        int last = binOf(Math.max(first, h.getMaxValue()));
        for (int bin = binOf(first); bin <= last; bin++) {
            long from = edge(bin);
            long to = Math.max(from + 1, edge(bin + 1));
            long count = h.getCountBetweenValues(from, to - 1);
            if (count > 0) {
                bins.add(new Bin(from, to, count));
            }
        }
        return new Distribution(
                h.getTotalCount(),
                h.getValueAtPercentile(50),
                h.getValueAtPercentile(95),
                h.getValueAtPercentile(99),
                h.getMaxValue(),
                bins);
    }

    private static int binOf(long ns) {
        return (int) Math.floor(StrictMath.log10((double) ns) * BINS_A_DECADE);
    }

    private static long edge(int bin) {
        return Math.round(StrictMath.pow(10, bin / BINS_A_DECADE));
    }
}

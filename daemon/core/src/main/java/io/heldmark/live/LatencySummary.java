package io.heldmark.live;

/**
 * A distribution of latencies in a few numbers.
 *
 * @param count how many.
 * @param meanNs mean, in nanoseconds; 0 without any.
 * @param p50Ns median.
 * @param p95Ns 95th percentile.
 * @param p99Ns 99th percentile.
 * @param maxNs greatest.
 */
public record LatencySummary(long count, double meanNs, long p50Ns, long p95Ns, long p99Ns, long maxNs) {}

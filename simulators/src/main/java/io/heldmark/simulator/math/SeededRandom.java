package io.heldmark.simulator.math;

import java.nio.charset.StandardCharsets;

/**
 * Random numbers from one seed, the same on every machine and Java version.
 *
 * <p><b>Method.</b> SplitMix64: a counter stepped by the odd constant nearest 2^64 over the golden ratio, and mixed.
 * Normal deviates by the polar method; logarithms by {@link StrictMath}.
 *
 * <p><b>Splitting.</b> {@link #split(String)} gives a stream that depends on the seed of this one and the name alone, never
 * on how many numbers were drawn. So each part of a simulation has its own stream ({@code cell/left} / {@code noise}, …), and
 * adding a part does not change the numbers of the others.
 *
 * <p><b>Threading.</b> Not thread-safe.
 *
 * <p><b>Source.</b> Steele, Lea &amp; Flood 2014, Fast splittable pseudorandom number generators, OOPSLA,
 * <a href="https://doi.org/10.1145/2660193.2660195">doi:10.1145/2660193.2660195</a>; Marsaglia &amp; Bray 1964, A
 * convenient method for generating normal variables, SIAM Review 6, 260-264 (both from memory); names by FNV-1a, 64 bit.
 */
public final class SeededRandom {
    private static final long GOLDEN = 0x9E3779B97F4A7C15L;
    private static final long FNV_OFFSET = 0xCBF29CE484222325L;
    private static final long FNV_PRIME = 0x100000001B3L;
    private static final double UNIT = 0x1.0p-53;

    private final long seed;
    private long state;
    private double spareGaussian;
    private boolean hasSpare;

    /** Begins a stream; any seed will do. */
    public SeededRandom(long seed) {
        this.seed = seed;
        this.state = seed;
    }

    /** Returns the stream of this name; it depends on this stream's seed and the name only. */
    public SeededRandom split(String name) {
        return new SeededRandom(mix(mix(seed + GOLDEN) ^ hash(name)));
    }

    /** Returns the stream of this name and number, as {@link #split(String)}. */
    public SeededRandom split(String name, long index) {
        return new SeededRandom(mix(split(name).seed + GOLDEN * (index + 1)));
    }

    /** Returns the next 64 random bits. */
    public long nextLong() {
        state += GOLDEN;
        return mix(state);
    }

    /** Returns a number from 0 (included) to 1 (excluded), uniform over the multiples of 2^-53. */
    public double nextDouble() {
        return (nextLong() >>> 11) * UNIT;
    }

    /** Returns a number between two bounds, uniform. */
    public double between(double low, double high) {
        return low + (high - low) * nextDouble();
    }

    /**
     * Returns a whole number from {@code low} to {@code high}, both included.
     *
     * @throws IllegalArgumentException if {@code high} is less than {@code low}.
     */
    public int between(int low, int high) {
        if (high < low) {
            throw new IllegalArgumentException("no numbers between low=" + low + " and high=" + high);
        }
        return low + (int) (nextDouble() * ((double) high - low + 1));
    }

    /** Returns true with this probability, 0 to 1; draws a number in every case. */
    public boolean chance(double probability) {
        return nextDouble() < probability;
    }

    /** Returns a standard normal deviate. */
    public double nextGaussian() {
        if (hasSpare) {
            hasSpare = false;
            return spareGaussian;
        }
        double u;
        double v;
        double s;
        do {
            u = 2 * nextDouble() - 1;
            v = 2 * nextDouble() - 1;
            s = u * u + v * v;
        } while (s >= 1 || s == 0);
        double scale = Math.sqrt(-2 * StrictMath.log(s) / s);
        spareGaussian = v * scale;
        hasSpare = true;
        return u * scale;
    }

    /** Returns an exponential deviate with this mean. */
    public double nextExponential(double mean) {
        return -mean * StrictMath.log(1 - nextDouble());
    }

    /**
     * Returns a number from 0 (included) to 1 (excluded) that depends on this stream's seed and the index alone, and draws
     * nothing: for decisions that may be asked for more than once.
     */
    public double at(long index) {
        return (mix(mix(seed + GOLDEN) + GOLDEN * (index + 1)) >>> 11) * UNIT;
    }

    private static long mix(long value) {
        long z = value;
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }

    private static long hash(String name) {
        long hash = FNV_OFFSET;
        for (byte b : name.getBytes(StandardCharsets.UTF_8)) {
            hash = (hash ^ (b & 0xFF)) * FNV_PRIME;
        }
        return hash;
    }
}

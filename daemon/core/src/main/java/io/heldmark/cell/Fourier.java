package io.heldmark.cell;

import java.util.Arrays;

/**
 * Discrete Fourier transform of a real signal whose length is a power of two.
 *
 * <p><b>Formula.</b> X[k] = sum over n of x[n] exp(-2 pi i k n / N), k = 0 to N/2, by decimation in time (Cooley and Tukey
 * 1965). Factors come from a table, so that results are the same everywhere.
 *
 * <p><b>Threading.</b> Not thread-safe: the work arrays are reused.
 */
final class Fourier {
    private final int size;
    private final double[] cosine;
    private final double[] sine;
    private final double[] real;
    private final double[] imaginary;

    /**
     * Makes a transform.
     *
     * @param size length N; a power of two, at least 2.
     * @throws IllegalArgumentException if it is not.
     */
    Fourier(int size) {
        if (size < 2 || Integer.bitCount(size) != 1) {
            throw new IllegalArgumentException("size must be a power of two, is " + size);
        }
        this.size = size;
        cosine = new double[size / 2];
        sine = new double[size / 2];
        for (int i = 0; i < size / 2; i++) {
            cosine[i] = StrictMath.cos(2 * Math.PI * i / size);
            sine[i] = -StrictMath.sin(2 * Math.PI * i / size);
        }
        real = new double[size];
        imaginary = new double[size];
    }

    /**
     * Adds |X[k]|^2 to an array.
     *
     * @param x N samples.
     * @param into N/2 + 1 sums.
     */
    void addPower(double[] x, double[] into) {
        int shift = 32 - Integer.numberOfTrailingZeros(size);
        for (int i = 0; i < size; i++) {
            real[Integer.reverse(i) >>> shift] = x[i];
        }
        Arrays.fill(imaginary, 0);
        for (int half = 1; half < size; half *= 2) {
            combine(half);
        }
        for (int k = 0; k <= size / 2; k++) {
            into[k] += real[k] * real[k] + imaginary[k] * imaginary[k];
        }
    }

    private void combine(int half) {
        int step = size / (2 * half);
        for (int start = 0; start < size; start += 2 * half) {
            for (int j = 0; j < half; j++) {
                int a = start + j;
                int b = a + half;
                double c = cosine[j * step];
                double s = sine[j * step];
                double re = real[b] * c - imaginary[b] * s;
                double im = real[b] * s + imaginary[b] * c;
                real[b] = real[a] - re;
                imaginary[b] = imaginary[a] - im;
                real[a] += re;
                imaginary[a] += im;
            }
        }
    }
}

package io.heldmark.detect;

/**
 * How long the steps of a coarse trace may hide that it leaves its level.
 *
 * <p><b>Why.</b> Noise of half a step or more moves the readings across the steps, and means of many tell what lies between two
 * of them. With less noise the level reads the same whatever the force is within a step: where the force was when it began to
 * rise, and what it did until it had left that step, is not in the trace.
 *
 * <p><b>Formula.</b> The step q is the smallest difference of successive readings that is not 0, of the stretch looked at. Where
 * the noise of rest is below q / 2, the time from the onset found until the readings have passed {@value #STEPS} q above the
 * level, else 0. It stands for the half width of a rectangular distribution.
 *
 * <p><b>Source.</b> Rounding as a rectangular distribution: JCGM 100:2008, F.2.2.1. Half a step of noise as the bound is common
 * practice in dithering (from memory); the number of steps was found on invented rises ({@code docs/detection.md}).
 */
final class Coarseness {
    private static final double STEPS = 2;

    private Coarseness() {}

    /**
     * Returns the time that is hidden, in seconds.
     *
     * @param trace samples.
     * @param from first index looked at.
     * @param to index after the last one.
     * @param onsetS the onset found, on the axis of the trace.
     * @param levelN the level that is left.
     * @param noiseN standard deviation of single samples at that level.
     */
    static double hiddenS(Segment trace, int from, int to, double onsetS, double levelN, double noiseN) {
        double stepN = Double.POSITIVE_INFINITY;
        for (int i = from + 1; i < to; i++) {
            double difference = Math.abs(trace.forceN(i) - trace.forceN(i - 1));
            stepN = difference > 0 ? Math.min(stepN, difference) : stepN;
        }
        if (!(noiseN < stepN / 2) || stepN == Double.POSITIVE_INFINITY) {
            return 0;
        }
        int i = trace.indexAt(onsetS);
        while (i < trace.size() - 1 && trace.forceN(i) < levelN + STEPS * stepN) {
            i++;
        }
        return Math.max(0, trace.timeS(i) - onsetS);
    }
}

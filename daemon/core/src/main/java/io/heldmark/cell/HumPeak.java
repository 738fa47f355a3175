package io.heldmark.cell;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Mains hum in a spectrum.
 *
 * @param mainsHz frequency of the mains, 50 or 60.
 * @param harmonic 1 for the mains frequency itself, 2 for twice that, ...
 * @param frequencyHz where the peak is.
 * @param rms root mean square of the hum, in the unit of the signal.
 * @param overNoise peak density over that of the noise around it.
 */
public record HumPeak(int mainsHz, int harmonic, double frequencyHz, double rms, double overNoise) {
    /**
     * Density over its surroundings from which a line counts. Ten averaged segments of noise alone stay below in all but
     * about one of 10^9 frequencies (chi-square with 20 degrees of freedom).
     */
    static final double LEAST_OVER_NOISE = 5;

    private static final int HARMONICS = 3;
    private static final int NEAR = 2; // The Hann window spreads a line over two neighbours on each side.
    private static final int AROUND = 12;

    /**
     * Returns the lines of both mains frequencies and their first harmonics that stand out of the noise around them.
     *
     * <p>The power of a line is the density within two frequencies of its peak, less the median density of the ten
     * beyond them on each side, times the distance of the frequencies.
     *
     * @param density density at k stepHz.
     * @param stepHz distance of its frequencies.
     */
    public static List<HumPeak> in(double[] density, double stepHz) {
        List<HumPeak> found = new ArrayList<>();
        for (int mainsHz : new int[] {50, 60}) {
            for (int harmonic = 1; harmonic <= HARMONICS; harmonic++) {
                HumPeak peak = at(density, stepHz, mainsHz, harmonic);
                if (peak != null) {
                    found.add(peak);
                }
            }
        }
        return found;
    }

    private static @Nullable HumPeak at(double[] density, double stepHz, int mainsHz, int harmonic) {
        int wanted = (int) Math.round(mainsHz * harmonic / stepHz);
        if (wanted - AROUND < 1 || wanted + AROUND >= density.length) {
            return null;
        }
        int peak = wanted;
        for (int k = wanted - 1; k <= wanted + 1; k++) {
            peak = density[k] > density[peak] ? k : peak;
        }
        double floor = floor(density, peak);
        double overNoise = density[peak] / floor;
        if (!(overNoise >= LEAST_OVER_NOISE)) {
            return null;
        }
        double power = 0;
        for (int k = peak - NEAR; k <= peak + NEAR; k++) {
            power += Math.max(0, density[k] - floor) * stepHz;
        }
        return new HumPeak(mainsHz, harmonic, peak * stepHz, Math.sqrt(power), overNoise);
    }

    private static double floor(double[] density, int peak) {
        double[] around = new double[2 * (AROUND - 1 - NEAR)];
        int n = 0;
        for (int away = NEAR + 1; away < AROUND; away++) {
            around[n++] = density[Math.max(0, peak - away)];
            around[n++] = density[Math.min(density.length - 1, peak + away)];
        }
        Arrays.sort(around);
        return (around[n / 2 - 1] + around[n / 2]) / 2;
    }
}

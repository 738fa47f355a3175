package io.heldmark.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** The spectrum against SciPy's signal.welch (values and their command: make_welch_values.py) and against identities. */
class WelchTest {
    private static final double RATE_HZ = 1000;

    /** The signal of make_welch_values.py. */
    static double[] samples(int n) {
        double[] out = new double[n];
        long state = 12345;
        for (int i = 0; i < n; i++) {
            state = state * 48271 % 2147483647L;
            double t = i / RATE_HZ;
            out[i] = state / 2147483647.0
                    + 0.5 * Math.sin(2 * Math.PI * 50 * t)
                    + 0.1 * Math.sin(2 * Math.PI * 150 * t)
                    + 0.01 * t;
        }
        return out;
    }

    @Test
    void shouldAgreeWithSciPy() throws Exception {
        Map<Integer, double[]> made = new HashMap<>();
        double[] x = samples(5000);
        int compared = 0;
        try (BufferedReader in = new BufferedReader(new InputStreamReader(
                Objects.requireNonNull(WelchTest.class.getResourceAsStream("/cell/welch_values.csv")),
                StandardCharsets.UTF_8))) {
            for (String line = in.readLine(); line != null; line = in.readLine()) {
                if (line.startsWith("#")) {
                    continue;
                }
                String[] part = line.split(",", -1);
                double[] density = made.computeIfAbsent(
                        Integer.parseInt(part[0]), segment -> new Welch(segment).density(x, RATE_HZ));
                double expected = Double.parseDouble(part[2]);
                assertEquals(expected, density[Integer.parseInt(part[1])], 1e-9 * expected + 1e-18, line);
                compared++;
            }
        }
        assertEquals(33 + 513, compared);
    }

    @Test
    void shouldHoldTheVariance() {
        SplittableRandom random = new SplittableRandom(3);
        double[] x = new double[1 << 15];
        double squares = 0;
        for (int i = 0; i < x.length; i++) {
            x[i] = random.nextGaussian(0, 2);
            squares += x[i] * x[i];
        }
        double sum = 0;
        for (double one : new Welch(256).density(x, 500)) {
            sum += one * 500 / 256;
        }
        assertEquals(squares / x.length, sum, 0.01 * sum, "Parseval");
    }

    @Test
    void shouldNameTheMainsAndItsHarmonics() {
        double[] density = new Welch(1024).density(samples(5000), RATE_HZ);
        List<HumPeak> hum = HumPeak.in(density, RATE_HZ / 1024);
        assertEquals(2, hum.size(), hum::toString);
        assertEquals(50, hum.get(0).mainsHz());
        assertEquals(1, hum.get(0).harmonic());
        assertEquals(0.5 / Math.sqrt(2), hum.get(0).rms(), 0.03, "amplitude 0.5");
        assertEquals(3, hum.get(1).harmonic());
        assertEquals(0.1 / Math.sqrt(2), hum.get(1).rms(), 0.02, "amplitude 0.1");
    }

    @Test
    void shouldNotNameNoiseMains() {
        SplittableRandom random = new SplittableRandom(4);
        int named = 0;
        for (int run = 0; run < 300; run++) {
            double[] x = new double[8000];
            for (int i = 0; i < x.length; i++) {
                x[i] = random.nextGaussian();
            }
            named += HumPeak.in(new Welch(1024).density(x, RATE_HZ), RATE_HZ / 1024)
                    .size();
        }
        assertEquals(0, named);
    }

    @Test
    void shouldRefuseSizesThatItCannotDo() {
        assertThrows(IllegalArgumentException.class, () -> new Welch(100));
        assertThrows(IllegalArgumentException.class, () -> new Welch(4));
        assertThrows(IllegalArgumentException.class, () -> new Welch(64).density(new double[63], 100));
        assertTrue(HumPeak.in(new double[20], 1).isEmpty(), "no room for 50 Hz");
    }
}

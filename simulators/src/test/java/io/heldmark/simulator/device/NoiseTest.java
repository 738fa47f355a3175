package io.heldmark.simulator.device;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.simulator.Scenarios;
import io.heldmark.simulator.force.Person;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.Scenario;
import org.junit.jupiter.api.Test;

class NoiseTest {
    private static Converter converter(String adc) {
        Scenario scenario = Scenarios.clean(10, "", "    adc: {countsPerNewton: 1000, " + adc + "}");
        return new Converter(
                scenario.cells().get(0), 0, new Person(scenario).limb("left"), new SeededRandom(1).split("test"));
    }

    private static double sd(Converter converter, double stepS, int n) {
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < n; i++) {
            double value = converter.convert(i * stepS);
            sum += value;
            squares += value * value;
        }
        return Math.sqrt(squares / n - (sum / n) * (sum / n));
    }

    @Test
    void shouldHaveTheStatedWhiteNoise() {
        int n = 100_000;
        // Counts add to newtons in squares: 300 and 400 counts make 500. Five standard errors: 5 sd / sqrt(2 n).
        assertEquals(500, sd(converter("noiseSdN: 0.3, noiseSdCounts: 400"), 0.001, n), 5 * 500 / Math.sqrt(2 * n));
    }

    @Test
    void shouldHaveTheStatedHum() {
        // 1 N and a third harmonic of 0.2 N over whole periods: sqrt(0.5 + 0.02) N.
        assertEquals(1000 * Math.sqrt(0.52), sd(converter("humN: 1"), 0.001, 100_000), 1);
    }

    @Test
    void shouldAverageTheHumAway() {
        assertEquals(0, sd(converter("humN: 1, averageS: 0.02"), 0.001, 10_000), 1);
    }

    @Test
    void shouldDelayARampByHalfTheAveragingTime() {
        Scenario scenario = Scenarios.clean(
                20,
                "efforts: [{atS: 2, rise: {shape: ramp, durationS: 10}}]",
                "    adc: {countsPerNewton: 1000, averageS: 0.05}");
        Converter converter = new Converter(
                scenario.cells().get(0), 0, new Person(scenario).limb("left"), new SeededRandom(1).split("test"));
        double middle = converter.convert(7);
        // In its middle the ramp rises 400 N in 8.5 s.
        double slope = 400 / 8.5 * 1000;
        double exact = 1000 * new Person(scenario).limb("left").forceN(7);
        assertEquals(exact - 0.025 * slope, middle, 2);
    }

    /** Power between octaves: 1/f noise has the same in each; white noise would have twice as much in the next. */
    @Test
    void shouldHaveTheSamePowerInEachOctaveOfFlicker() {
        double rateHz = 128;
        Flicker flicker = new Flicker(1, rateHz, new SeededRandom(9));
        int n = 1 << 19;
        double[] x = new double[n];
        double squares = 0;
        for (int i = 0; i < n; i++) {
            x[i] = flicker.next();
            squares += x[i] * x[i];
        }
        // Differences of means over neighbouring blocks: for 1/f noise their variance does not depend on the block's
        // length (Allan variance, IEEE Std 1139; from memory).
        double shortBlocks = allan(x, 64);
        double longBlocks = allan(x, 1024);
        assertEquals(1, longBlocks / shortBlocks, 0.25);
        assertEquals(1, Math.sqrt(squares / n), 0.3);
    }

    private static double allan(double[] x, int block) {
        double sum = 0;
        double last = 0;
        int blocks = x.length / block;
        for (int b = 0; b < blocks; b++) {
            double mean = 0;
            for (int i = 0; i < block; i++) {
                mean += x[b * block + i] / block;
            }
            sum += b == 0 ? 0 : (mean - last) * (mean - last);
            last = mean;
        }
        return sum / 2 / (blocks - 1);
    }
}

package io.heldmark.simulator.math;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class SeededRandomTest {
    /** Published outputs of SplitMix64 for the seed 1234567 (Rosetta Code, Pseudo-random numbers/Splitmix64; from memory). */
    @Test
    void shouldGiveThePublishedNumbers() {
        SeededRandom random = new SeededRandom(1234567);
        assertEquals("6457827717110365317", Long.toUnsignedString(random.nextLong()));
        assertEquals("3203168211198807973", Long.toUnsignedString(random.nextLong()));
        assertEquals("9817491932198370423", Long.toUnsignedString(random.nextLong()));
        assertEquals("4593380528125082431", Long.toUnsignedString(random.nextLong()));
        assertEquals("16408922859458223821", Long.toUnsignedString(random.nextLong()));
    }

    /** And the same from {@code java.util.SplittableRandom}, an implementation of its own of the same generator. */
    @Test
    void shouldAgreeWithTheLibrarysGenerator() {
        SeededRandom random = new SeededRandom(-5);
        java.util.SplittableRandom library = new java.util.SplittableRandom(-5);
        for (int i = 0; i < 1000; i++) {
            assertEquals(library.nextLong(), random.nextLong());
        }
    }

    @Test
    void shouldSplitByNameAndSeedOnly() {
        SeededRandom fresh = new SeededRandom(3);
        SeededRandom used = new SeededRandom(3);
        used.nextLong();
        used.nextGaussian();
        assertEquals(fresh.split("noise").nextLong(), used.split("noise").nextLong());
        assertNotEquals(fresh.split("noise").nextLong(), fresh.split("hum").nextLong());
        assertNotEquals(
                fresh.split("noise", 0).nextLong(), fresh.split("noise", 1).nextLong());
        assertNotEquals(
                fresh.split("noise").nextLong(),
                new SeededRandom(4).split("noise").nextLong());
    }

    @Test
    void shouldHaveTheMomentsOfItsDistributions() {
        SeededRandom random = new SeededRandom(99).split("moments");
        int n = 200_000;
        double sum = 0;
        double squares = 0;
        double fourth = 0;
        double exponential = 0;
        int hits = 0;
        for (int i = 0; i < n; i++) {
            double g = random.nextGaussian();
            sum += g;
            squares += g * g;
            fourth += g * g * g * g;
            exponential += random.nextExponential(2);
            hits += random.chance(0.03) ? 1 : 0;
        }
        // Five standard errors each: 1/sqrt(n), sqrt(2/n), sqrt(96/n), 2/sqrt(n), sqrt(p(1-p)/n).
        assertEquals(0, sum / n, 5 / Math.sqrt(n));
        assertEquals(1, squares / n, 5 * Math.sqrt(2.0 / n));
        assertEquals(3, fourth / n, 5 * Math.sqrt(96.0 / n));
        assertEquals(2, exponential / n, 5 * 2 / Math.sqrt(n));
        assertEquals(0.03, (double) hits / n, 5 * Math.sqrt(0.03 * 0.97 / n));
    }

    @Test
    void shouldReachBothEndsOfWholeRanges() {
        SeededRandom random = new SeededRandom(1);
        boolean[] seen = new boolean[4];
        for (int i = 0; i < 200; i++) {
            seen[random.between(5, 8) - 5] = true;
        }
        assertTrue(seen[0] && seen[1] && seen[2] && seen[3]);
        assertThrows(IllegalArgumentException.class, () -> random.between(2, 1));
    }

    @Test
    void shouldGiveNumbersByIndexWithoutDrawing() {
        SeededRandom random = new SeededRandom(8);
        double first = random.at(10);
        random.nextLong();
        assertEquals(first, random.at(10));
        double sum = 0;
        for (int i = 0; i < 100_000; i++) {
            sum += random.at(i);
        }
        assertEquals(0.5, sum / 100_000, 5 * Math.sqrt(1.0 / 12 / 100_000));
    }
}

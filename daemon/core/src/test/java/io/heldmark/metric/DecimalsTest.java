package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** The same text as the library's formatter gives. */
class DecimalsTest {
    private static void check(double value) {
        assertEquals(String.format(Locale.ROOT, "%.0f", value), Decimals.of(value, 0));
        assertEquals(String.format(Locale.ROOT, "%.1f", value), Decimals.of(value, 1));
        assertEquals(String.format(Locale.ROOT, "%.2f", value), Decimals.of(value, 2));
    }

    @Test
    void shouldWriteWhatTheFormatterWrites() {
        Random random = new Random(6);
        for (int i = 0; i < 20_000; i++) {
            check((random.nextDouble() - 0.2) * StrictMath.pow(10, random.nextInt(14) - 3));
            check(random.nextInt(4000) * 0.005); // Halves of a last digit, as near as a double comes to them.
        }
        for (double value : new double[] {0, -0.0, 0.5, 1.5, 2.5, 0.995, 9.995, 0.05, 1e300, Double.NaN, -1 / 0.0}) {
            check(value);
        }
    }
}

package io.heldmark.time;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class NanosecondsTest {
    @Test
    void shouldRoundAsTheLibraryDoesAroundEveryPowerOfTwoAndHalf() {
        for (int exponent = -3; exponent < 64; exponent++) {
            for (double beside : new double[] {-0.5, 0, 0.5, 1, 1.5}) {
                double at = Math.scalb(1.0, exponent) + beside;
                for (double ns : new double[] {at, Math.nextUp(at), Math.nextDown(at)}) {
                    assertEquals(Math.round(ns), Nanoseconds.round(ns), () -> "of " + ns);
                    assertEquals(Math.round(-ns), Nanoseconds.round(-ns), () -> "of " + -ns);
                }
            }
        }
        assertEquals(0, Nanoseconds.round(0.49999999999999994));
    }

    @Test
    void shouldRoundAnyNumberAsTheLibraryDoes() {
        SplittableRandom random = new SplittableRandom(6_300_000L);
        for (int i = 0; i < 100_000; i++) {
            double any = Double.longBitsToDouble(random.nextLong());
            double usual = Math.scalb(random.nextDouble(), random.nextInt(56));
            assertEquals(Math.round(any), Nanoseconds.round(any), () -> "of " + any);
            assertEquals(Math.round(usual), Nanoseconds.round(usual), () -> "of " + usual);
        }
    }
}

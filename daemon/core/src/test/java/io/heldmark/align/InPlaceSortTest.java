package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class InPlaceSortTest {
    @Test
    void shouldSortAsTheLibraryDoes() {
        SplittableRandom random = new SplittableRandom(6_200_000L);
        for (int n = 0; n < 300; n++) {
            double[] ours = new double[n + 2];
            for (int i = 0; i < ours.length; i++) {
                ours[i] = n % 3 == 0 ? i % 7 : random.nextInt(-50, 50) + (n % 3 - 1) * random.nextDouble();
            }
            double[] library = ours.clone();
            Arrays.sort(library, 0, n);

            InPlaceSort.sort(ours, n);

            assertArrayEquals(library, ours);
        }
    }
}

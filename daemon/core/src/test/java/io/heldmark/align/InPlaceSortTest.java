package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

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

    @Test
    void shouldPickWhatStandsAtAnIndexOfTheSorted() {
        SplittableRandom random = new SplittableRandom(6_200_001L);
        for (int n = 1; n < 400; n++) {
            double[] numbers = new double[n + 1];
            for (int i = 0; i < numbers.length; i++) {
                numbers[i] = n % 2 == 0 ? random.nextInt(5) : random.nextDouble();
            }
            double last = numbers[n];
            double[] library = Arrays.copyOf(numbers, n);
            Arrays.sort(library);
            int index = random.nextInt(n);
            assertEquals(library[index], InPlaceSort.pick(numbers, n, index));
            assertEquals(last, numbers[n]);
        }
    }

    @Test
    void shouldPickFromTheHighestFew() {
        SplittableRandom random = new SplittableRandom(6_200_002L);
        for (int n = 1; n < 400; n++) {
            double[] numbers = new double[n];
            for (int i = 0; i < n; i++) {
                numbers[i] = n % 3 == 0 ? random.nextInt(5) : n % 3 == 1 ? i : random.nextDouble();
            }
            double[] library = numbers.clone();
            Arrays.sort(library);
            int index = Math.max(0, n - 1 - random.nextInt(22));
            assertEquals(library[index], InPlaceSort.pick(numbers, n, index));
        }
    }

    @Test
    void shouldPickTheSameWhateverIsTakenForLikely() {
        SplittableRandom random = new SplittableRandom(6_200_003L);
        for (int n = 1; n < 200; n++) {
            double[] numbers = new double[n];
            for (int i = 0; i < n; i++) {
                numbers[i] = n % 2 == 0 ? random.nextInt(5) : random.nextDouble();
            }
            double[] library = numbers.clone();
            Arrays.sort(library);
            int index = random.nextInt(n);
            for (double likely : new double[] {library[index], numbers[0], numbers[n - 1], -1, 9, Double.NaN}) {
                assertEquals(library[index], InPlaceSort.pick(numbers.clone(), n, index, likely));
            }
        }
    }
}

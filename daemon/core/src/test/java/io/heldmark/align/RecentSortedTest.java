package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class RecentSortedTest {
    private static final int CAPACITY = 64;

    private final double[] newest = new double[CAPACITY];
    private final RecentSorted recent = new RecentSorted(CAPACITY);
    private int count;

    /** Expected values come from {@link Arrays#sort(double[])}. */
    @Test
    void shouldStaySortedWhileNumbersComeAndGo() {
        SplittableRandom random = new SplittableRandom(6_200_003L);
        for (int i = 0; i < 5000; i++) {
            add(i % 500 < 250 ? random.nextInt(9) : random.nextDouble());
            if (random.nextInt(i % 1000 < 300 ? 2 : 90) == 0) {
                check();
            }
        }
        check();
    }

    @Test
    void shouldBeginAnewOnceCleared() {
        for (int i = 0; i < 100; i++) {
            add(i);
        }
        recent.clear();
        count = 0;
        add(7);
        add(3);
        check();
    }

    private void add(double value) {
        recent.add(value);
        newest[count % CAPACITY] = value;
        count++;
    }

    private void check() {
        int n = Math.min(count, CAPACITY);
        double[] library = Arrays.copyOf(newest, n);
        Arrays.sort(library);
        assertArrayEquals(library, Arrays.copyOf(recent.sorted(), n));
    }
}

package io.heldmark.filter;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.filter.FilterVectors.Case;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Forward-backward filtering against SciPy 1.10.1 ({@code sosfiltfilt}) and against what it must do; the files and the
 * command that made them: {@link FilterVectors}.
 */
class ZeroPhaseTest {
    @Test
    void shouldFilterAsScipyForwardAndBackward() {
        List<Case> cases = FilterVectors.cases("zero-phase.csv");
        assertEquals((9 * 3 + 4) * 4, cases.size());
        for (Case c : cases) {
            ZeroPhase filter = new ZeroPhase(c.filter().sections());
            double[] y = input(c);
            switch (c.label()) {
                case "default", "default40" -> filter.process(y, 0, y.length);
                default -> filter.process(y, 0, y.length, Integer.parseInt(c.label()));
            }
            assertArrayEquals(c.values(), y, tolerance(c), c.toString());
        }
    }

    /** 1e-9 N of up to 320 N; 1e-9 of the largest where 0.5 Hz of 2 kHz brings the gain itself to the end of doubles. */
    private static double tolerance(Case c) {
        return c.frequencyHz() / c.sampleRateHz() < 1e-3 ? 1e-6 : 1e-9;
    }

    private static double[] input(Case c) {
        double[] x = FilterVectors.signal();
        return c.label().equals("default40") ? Arrays.copyOfRange(x, 40, 80) : x;
    }

    @Test
    void shouldPadAsScipyDoesByDefault() {
        assertEquals(9, new ZeroPhase(Butterworth.lowPass(2, 10, 1000).sections()).defaultPadding());
        assertEquals(15, new ZeroPhase(Butterworth.lowPass(4, 10, 1000).sections()).defaultPadding());
        double[][] firstOrder = {{0.5, 0.5, 0, 1, 0, 0}};
        assertEquals(6, new ZeroPhase(firstOrder).defaultPadding(), "3 (2 + 1 - 1)");
    }

    @Test
    void shouldBeThreeDecibelsDownAtTheCutoffAfterBothPasses() {
        List<Case> cases = FilterVectors.cases("double-pass.csv");
        assertEquals(27, cases.size());
        for (Case c : cases) {
            // SciPy: two passes designed at frequencyHz meet half power at hz; so to meet it there, design at
            // frequencyHz.
            double hz = c.values()[0];
            double designed = ZeroPhase.singlePassCutoffHz((int) c.orderOrQ(), hz, c.sampleRateHz());
            assertEquals(c.frequencyHz(), designed, 1e-9 * c.frequencyHz(), c.toString());
        }
        // Published factor for order 2: 0.8022 (Winter, from memory), and what it becomes near half the sample rate.
        assertEquals(10 / 0.8022, ZeroPhase.singlePassCutoffHz(2, 10, 100_000), 1e-3);
        assertEquals(10, ZeroPhase.singlePassCutoffHz(2, 8.170, 80), 1e-3);
    }

    @Test
    void shouldNotShiftASineAndHalveItsPowerAtTheCutoff() {
        double rateHz = 1000;
        for (int order : new int[] {2, 4, 8}) {
            double[] x = new double[4000];
            for (int i = 0; i < x.length; i++) {
                x[i] = StrictMath.sin(2 * Math.PI * 20 * i / rateHz);
            }
            double[] y = x.clone();
            ZeroPhase.lowPass(order, 20, rateHz).process(y, 0, y.length);
            for (int i = 1500; i < 2500; i++) {
                assertEquals(x[i] * Math.sqrt(0.5), y[i], 1e-9, "order " + order);
            }
        }
    }

    @Test
    void shouldLeaveAStraightLineAlone() {
        // Odd continuation goes on with the line, so not even the ends bend.
        double[] line = new double[300];
        for (int i = 0; i < line.length; i++) {
            line[i] = 120 - 0.7 * i;
        }
        double[] y = line.clone();
        ZeroPhase.lowPass(2, 50, 1000).process(y, 0, y.length, 150);
        assertArrayEquals(line, y, 1e-6);
    }

    @Test
    void shouldRunBackwardAsForward() {
        Random random = new Random(3);
        double[] x = random.doubles(500, -50, 300).toArray();
        double[] y = x.clone();
        ZeroPhase filter = ZeroPhase.lowPass(4, 30, 1000);
        filter.process(y, 0, y.length, 400);
        double[] turned = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            turned[i] = x[x.length - 1 - i];
        }
        filter.process(turned, 0, turned.length, 400);
        for (int i = 100; i < 400; i++) {
            assertEquals(y[i], turned[x.length - 1 - i], 1e-6, "apart from how the ends are started");
        }
    }

    @Test
    void shouldGiveAPartToTheBitAsTheWhole() {
        double[] x = new Random(4).doubles(700, -50, 300).toArray();
        double[] before = x.clone();
        for (int order : new int[] {2, 4}) {
            ZeroPhase filter = ZeroPhase.lowPass(order, 20, 1000);
            double[] whole = x.clone();
            filter.process(whole, 40, 600);
            for (int[] part : new int[][] {{0, 600}, {250, 100}, {599, 1}, {0, 1}, {300, 0}}) {
                double[] got = filter.part(x, 40, 600, part[0], part[1]);
                assertArrayEquals(Arrays.copyOfRange(whole, 40 + part[0], 40 + part[0] + part[1]), got);
            }
            assertThrows(IndexOutOfBoundsException.class, () -> filter.part(x, 40, 600, 590, 11));
        }
        assertArrayEquals(before, x);
    }

    @Test
    void shouldBeginBeforeItsCauseWhichIsWhyNoOnsetUsesIt() {
        // Exponential rise of tau 0.1 s: order 2, 10 Hz design each pass, crosses 1 % of the plateau 14 ms early.
        double[] y = new double[2000];
        for (int i = 1000; i < y.length; i++) {
            y[i] = 1 - StrictMath.exp(-(i - 1000) / 100.0);
        }
        new ZeroPhase(Butterworth.lowPass(2, 10, 1000).sections()).process(y, 0, y.length);
        int crossing = 0;
        while (y[crossing] < 0.01) {
            crossing++;
        }
        assertTrue(crossing <= 987 && crossing >= 985, "crossing " + crossing);
    }

    @Test
    void shouldRefuseWithoutChangingAnything() {
        ZeroPhase filter = ZeroPhase.lowPass(2, 10, 1000);
        double[] x = new double[9];
        x[3] = 5;
        double[] before = x.clone();
        String message = assertThrows(IllegalArgumentException.class, () -> filter.process(x, 0, 9))
                .getMessage();
        assertEquals("a stretch must have more samples than the padding: n=9, padding=9", message);
        assertThrows(IllegalArgumentException.class, () -> filter.process(x, 0, 9, -1));
        assertThrows(IndexOutOfBoundsException.class, () -> filter.process(x, 5, 9, 0));
        assertArrayEquals(before, x);
        double[] broken = new double[40];
        broken[20] = Double.NaN;
        assertThrows(IllegalArgumentException.class, () -> filter.process(broken, 0, 40));
        assertEquals(0, broken[10]);
        assertThrows(IllegalArgumentException.class, () -> ZeroPhase.lowPass(2, 500, 1000));
        assertThrows(IllegalArgumentException.class, () -> ZeroPhase.lowPass(3, 50, 1000));
    }
}

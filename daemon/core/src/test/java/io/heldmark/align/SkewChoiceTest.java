package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Expected values by the formulas of the Javadoc, written out. */
class SkewChoiceTest {
    private static final double S = 1e9;
    private static final double MS = 1e6;
    private static final double FINEST = 0.5e-6;
    private static final double CRYSTAL = 60e-6;

    private final EnvelopeWindow up = new EnvelopeWindow();
    private final ArrivalPhase phase = new ArrivalPhase();
    private final TwoWayBound twoWay = new TwoWayBound();
    private final EventMatch match = new EventMatch();
    private final SkewChoice choice = new SkewChoice();

    private void points(double slope, double spanS) {
        for (int i = 0; i <= 20; i++) {
            double x = i * spanS / 20 * S;
            up.add(x, slope * x + (i % 2 == 0 ? 0 : MS), 0);
        }
        up.fit();
    }

    /** Variance that a straight envelope has: looseness over its span, nothing swept, and the finest. */
    private double variance() {
        double unsweptNs = Math.min(phase.hiddenNs(), phase.rangeNs() - phase.hiddenNs());
        double open = 0.25 * (up.looseNs() + unsweptNs) / up.spanNs();
        return open * open + FINEST * FINEST;
    }

    @Test
    void shouldExpectACrystalWhereNothingIsKnown() {
        choice.choose(up, phase, twoWay, match);
        assertEquals(0, choice.skew());
        assertEquals(CRYSTAL, choice.uncertainty(), 1e-12);
    }

    @Test
    void shouldWeighTheEnvelopeAgainstWhatCrystalsCanDo() {
        points(30e-6, 10);
        choice.choose(up, phase, twoWay, match);
        double weight = 1 / variance();
        double crystal = 1 / (CRYSTAL * CRYSTAL);
        assertEquals(30e-6 * weight / (weight + crystal), choice.skew(), 1e-12);
        assertEquals(1 / Math.sqrt(weight + crystal), choice.uncertainty(), 1e-12);
        choice.clear();
        assertEquals(0, choice.skew());
        assertEquals(CRYSTAL, choice.uncertainty());
    }

    @Test
    void shouldBelieveDataThatContradictACrystal() {
        points(2e-3, 12);
        choice.choose(up, phase, twoWay, match);
        assertEquals(2e-3, choice.skew(), 1e-9);
        assertEquals(Math.sqrt(variance()), choice.uncertainty(), 1e-12);
    }

    @Test
    void shouldNotBelieveThemBeforeTheySpanTenSeconds() {
        points(2e-3, 9);
        choice.choose(up, phase, twoWay, match);
        double weight = 1 / variance();
        assertEquals(2e-3 * weight / (weight + 1 / (CRYSTAL * CRYSTAL)), choice.skew(), 1e-12);
    }

    @Test
    void shouldLeaveOutALineThatNoOscillatorCanHave() {
        points(-0.03, 30);
        choice.choose(up, phase, twoWay, match);
        assertEquals(0, choice.skew());
    }

    @Test
    void shouldTrustPingsMoreThanAWayUpThatMayFollowTheRhythmOfTheLink() {
        points(90e-6, 20);
        for (int i = 0; i <= 200; i++) {
            double x = i * 0.1 * S;
            twoWay.add(x, 10e-6 * x - MS, 0);
        }
        twoWay.fit();
        assertTrue(twoWay.ready());
        assertFalse(match.ready());
        choice.choose(up, phase, twoWay, match);
        double upWeight = 1 / (variance() + 200e-6 * 200e-6);
        double downWeight = 1 / (FINEST * FINEST);
        double crystal = 1 / (CRYSTAL * CRYSTAL);
        assertEquals((90e-6 * upWeight + 10e-6 * downWeight) / (upWeight + downWeight + crystal), choice.skew(), 1e-9);
    }
}

package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** Sums of variances, worked by hand. */
class EstimateMovesTest {
    private static final double SECOND_NS = 1e9;

    private final EstimateMoves moves = new EstimateMoves();

    @Test
    void shouldHaveMovedByTheMovingPartAlone() {
        moves.onEstimate(4, 100);
        moves.begin(0);

        assertEquals(4, moves.varianceNs2(SECOND_NS, false));
        assertEquals(0, moves.methodNs());
    }

    @Test
    void shouldHaveMovedByWhatTheDoubtAboutTheStandingPartHasChanged() {
        moves.onEstimate(4, 100);
        moves.begin(0);
        moves.onEstimate(9, 70);
        assertEquals(9 + 30, moves.varianceNs2(SECOND_NS, false));

        moves.onEstimate(9, 130);
        assertEquals(9 + 30, moves.varianceNs2(SECOND_NS, false));
        assertEquals(9, moves.movingNs2());
    }

    @Test
    void shouldTellAStepOfMethodApartWithTheMovingPartsOnBothSides() {
        moves.onEstimate(4, 100);
        moves.begin(0);
        moves.onMethod(-500, 9, 40);
        assertEquals(-500, moves.methodNs());
        assertEquals(4 + 9 + 9, moves.varianceNs2(SECOND_NS, false));

        // The doubt about the standing part counts from the new method's on.
        moves.onEstimate(1, 45);
        moves.onMethod(200, 2, 10);
        assertEquals(-300, moves.methodNs());
        assertEquals(4 + 9 + (1 + 2 + 5) + 2, moves.varianceNs2(SECOND_NS, false));
    }

    @Test
    void shouldWalkOnARadioWithTwoCrystalsAndNoFurtherThanTheStandingPart() {
        double standingNs2 = 1e12;
        moves.onEstimate(0, standingNs2);
        moves.begin(5 * SECOND_NS);

        double walkNs = 85e-6 * SECOND_NS; // 85 microseconds in a second
        assertEquals(walkNs * walkNs, moves.varianceNs2(6 * SECOND_NS, true), 1e-3);
        assertEquals(2 * standingNs2, moves.varianceNs2(1000 * SECOND_NS, true));
        assertEquals(0, moves.varianceNs2(1000 * SECOND_NS, false));
        assertEquals(0, moves.varianceNs2(4 * SECOND_NS, true), "before the beginning nothing has walked");
    }

    @Test
    void shouldForgetWithABeginning() {
        moves.onEstimate(4, 100);
        moves.begin(0);
        moves.onMethod(-500, 9, 40);

        moves.begin(SECOND_NS);

        assertEquals(0, moves.methodNs());
        assertEquals(9, moves.varianceNs2(2 * SECOND_NS, false));
    }
}

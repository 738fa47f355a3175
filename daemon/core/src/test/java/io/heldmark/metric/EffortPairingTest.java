package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import java.util.List;
import org.junit.jupiter.api.Test;

class EffortPairingTest {
    private static final ChannelInfo LEFT = channel(0, "serial:a", Limb.LEFT);
    private static final ChannelInfo RIGHT = channel(1, "serial:b", Limb.RIGHT);

    private static ChannelInfo channel(int n, String link, Limb limb) {
        return new ChannelInfo(n, link, "", 0, "c", limb, 1000, 0, 0, "N", "factory", 0.002, 0.1);
    }

    private static Contraction contraction(long id, Limb limb, double fromS, double toS, double peakN) {
        return new Contraction(
                id,
                Revision.FINAL,
                limb == Limb.LEFT ? 0 : 1,
                limb,
                Math.round(fromS * 1e9),
                5e6,
                Math.round((toS - 0.1) * 1e9),
                Math.round(toS * 1e9),
                0,
                List.of(),
                List.of(MetricValue.of("force.peak", peakN, 1, "N")));
    }

    private static Effort left(EffortPairing p, long id, double from, double to, double peak) {
        return p.onFinal(contraction(id, Limb.LEFT, from, to, peak), LEFT, 3e6);
    }

    private static Effort right(EffortPairing p, long id, double from, double to, double peak) {
        return p.onFinal(contraction(id, Limb.RIGHT, from, to, peak), RIGHT, 3e6);
    }

    @Test
    void shouldPairContractionsThatOverlap() {
        EffortPairing pairing = EffortPairing.standard();
        assertNull(left(pairing, 7, 1.00, 4.0, 412));
        Effort effort = right(pairing, 8, 1.02, 3.8, 368);
        assertEquals(1, effort.id());
        assertEquals(7, effort.leftContractionId());
        assertEquals(8, effort.rightContractionId());
        assertEquals(-20_000_000L, effort.onsetLagNs());
        assertEquals(Math.hypot(5e6, 5e6), effort.onsetLagStandardUncertaintyNs(), 1);
        assertEquals(11.294, effort.asymmetry().quantity().value(), 5e-4);
        assertNull(right(pairing, 9, 1.5, 3.9, 300), "the left one is taken");
    }

    @Test
    void shouldPairWhicheverLimbEndsFirst() {
        EffortPairing pairing = EffortPairing.standard();
        assertNull(right(pairing, 1, 1, 3, 300));
        Effort effort = left(pairing, 2, 1.1, 4, 330);
        assertEquals(2, effort.leftContractionId());
        assertEquals(1, effort.rightContractionId());
        assertEquals(100_000_000L, effort.onsetLagNs());
    }

    @Test
    void shouldNotPairLimbsTestedOneAfterTheOther() {
        EffortPairing pairing = EffortPairing.standard();
        assertNull(left(pairing, 1, 1, 4, 300));
        assertNull(right(pairing, 2, 5, 8, 300));
        assertNull(right(pairing, 3, 3.9, 7, 300), "a tenth of a second in common is chance");
    }

    @Test
    void shouldTakeTheLongestOverlap() {
        EffortPairing pairing = EffortPairing.standard();
        assertNull(left(pairing, 1, 1, 2, 300));
        assertNull(left(pairing, 2, 2.2, 5, 310));
        Effort effort = right(pairing, 3, 1.2, 5, 300);
        assertEquals(2, effort.leftContractionId());
    }

    @Test
    void shouldCancelTheAlignmentThatBothLimbsShare() {
        EffortPairing pairing = EffortPairing.standard();
        ChannelInfo same = channel(1, "serial:a", Limb.RIGHT);
        assertNull(left(pairing, 1, 1, 4, 300));
        Effort effort = pairing.onFinal(contraction(2, Limb.RIGHT, 1, 4, 300), same, 3e6);
        // 5 ms each, of which 3 ms are the one device's alignment: 4 ms each remain.
        assertEquals(Math.hypot(4e6, 4e6), effort.onsetLagStandardUncertaintyNs(), 1);
    }

    @Test
    void shouldLeaveOtherLimbsAndWithdrawnContractionsAlone() {
        EffortPairing pairing = EffortPairing.standard();
        assertNull(left(pairing, 1, 1, 4, 300));
        assertNull(pairing.onFinal(contraction(2, Limb.NONE, 1, 4, 300), RIGHT, 0));
        assertNotNull(right(pairing, 3, 1, 4, 300));
    }

    @Test
    void shouldKeepNoMoreThanItsBound() {
        EffortPairing pairing = EffortPairing.standard();
        for (int i = 0; i < 17; i++) {
            assertNull(left(pairing, i + 1, 10 * i, 10 * i + 3, 300));
        }
        assertNull(right(pairing, 100, 0, 3, 300), "the oldest of 17 was let go");
        assertNotNull(right(pairing, 101, 10, 13, 300));
    }

    @Test
    void shouldSayWhyThereIsNoAsymmetry() {
        EffortPairing pairing = EffortPairing.standard();
        assertNull(left(pairing, 1, 1, 4, 300));
        Contraction bare = contraction(2, Limb.RIGHT, 1, 4, 300).withMetrics(List.of());
        Effort effort = pairing.onFinal(bare, RIGHT, 0);
        assertEquals("right limb: no peak force", effort.asymmetry().notComputed());
    }
}

package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class BandTest {
    private static SampleBatch batch(double... forceN) {
        SampleBatch batch = new SampleBatch(forceN.length);
        batch.count = forceN.length;
        System.arraycopy(forceN, 0, batch.forceN, 0, forceN.length);
        return batch;
    }

    @ParameterizedTest
    @CsvSource({"-4.99, true", "-5, false", "5, false", "4.99, true", "NaN, false", "Infinity, false"})
    void shouldHoldWhatLiesBetweenItsEnds(double forceN, boolean held) {
        Band band = new Band();
        band.set(-5, 5);
        assertEquals(held, band.holds(forceN));
        assertEquals(held, band.holds(batch(0, forceN, 1)));
        TraceBuffer raw = new TraceBuffer(4);
        raw.add(0, 100, false);
        raw.add(1, forceN, false);
        raw.add(2, 0, false);
        assertEquals(held, band.holdsNewest(raw, 2));
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1e300, -3, 0, 4.9})
    void shouldBeOpenDownwardsWhereAsked(double forceN) {
        Band band = new Band();
        band.set(-Double.MAX_VALUE, 5);
        assertTrue(band.holds(forceN));
        assertFalse(band.holds(Double.NEGATIVE_INFINITY));
    }
}

package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class LinkWarningsTest {
    private static final long MS = 1_000_000L;

    private final LinkWarnings warnings = new LinkWarnings(true);
    private long nowMs;

    /** Lets a second pass with samples every so many milliseconds. */
    private String second(int everyMs, long lost) {
        for (int t = everyMs; t <= 1000; t += everyMs) {
            warnings.onSamples((nowMs + t) * MS);
        }
        nowMs += 1000;
        return warnings.endSecond(nowMs * MS, lost);
    }

    @Test
    void shouldTellEveryStepOfALowChargeOnce() {
        assertNull(warnings.onCharge(-1), "not known");
        assertNull(warnings.onCharge(21));
        assertEquals("the cell's charge is down to 20 %: charge it before the next test", warnings.onCharge(20));
        assertNull(warnings.onCharge(19));
        assertNull(warnings.onCharge(23));
        assertNull(warnings.onCharge(20));
        assertNotNull(warnings.onCharge(4), "two steps at once");
        assertNull(warnings.onCharge(3));
        assertNull(warnings.onCharge(80));
        assertNotNull(warnings.onCharge(12));
    }

    @Test
    void shouldStaySilentOnASoundLink() {
        for (int i = 0; i < 60; i++) {
            assertNull(second(40, 0));
        }
    }

    @Test
    void shouldTellOfSamplesThatWait() {
        assertNull(second(40, 0));
        assertNull(second(500, 0), "one bad second is none");
        assertEquals(
                "the radio link is weak (samples came 500 ms late): bring the cell nearer, out of the shadow of the body",
                second(500, 0));
    }

    @Test
    void shouldTellOfLossAtMostOnceAMinute() {
        assertNull(second(40, 10));
        assertTrue(String.valueOf(second(40, 25)).contains("(15 samples were lost)"));
        int told = 0;
        for (int i = 0; i < 120; i++) {
            told += second(40, 30 + i) == null ? 0 : 1;
        }
        assertEquals(2, told);
    }

    @Test
    void shouldForgetBadSecondsAfterTen() {
        assertNull(second(500, 0));
        for (int i = 0; i < 10; i++) {
            assertNull(second(40, 0));
        }
        assertNull(second(500, 0));
    }

    @Test
    void shouldNotCountTheTimeWithoutAConnection() {
        second(40, 0);
        nowMs += 30_000;
        warnings.onUp();
        assertNull(second(40, 0));
        assertNull(second(40, 0));
    }

    @Test
    void shouldSayNothingOfTheRadioOfACable() {
        LinkWarnings cable = new LinkWarnings(false);
        for (int i = 1; i < 20; i++) {
            cable.onSamples(i * 900L * MS);
            assertNull(cable.endSecond(i * 1000L * MS, i * 5L));
        }
    }
}

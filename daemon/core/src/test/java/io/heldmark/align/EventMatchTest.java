package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Links made by hand: device time is station time less an offset, times a rate; what comes out is known. */
class EventMatchTest {
    private static final double MS = 1e6;
    private static final double OFFSET_NS = 5 * MS;
    private static final double SKEW = 40e-6; // Station time minus device time over device time.

    private final SplittableRandom random = new SplittableRandom(6_100_000L);
    private final EventMatch match = new EventMatch();
    private double nowX;

    @Test
    void shouldFindTheLineWherePingsAndFramesShareEvents() {
        play(30 * MS, 1, 0);

        assertTrue(match.ready());
        assertEquals(SKEW, match.skew(), 3e-6);
        assertEquals(OFFSET_NS, match.offset(SKEW), 0.05 * MS);
        assertTrue(match.meanUncertaintyNs() < 0.05 * MS);
    }

    @Test
    void shouldNotBeMisledByLaterEventsForSomePings() {
        play(30 * MS, 1, 0.3);

        assertTrue(match.ready());
        assertEquals(OFFSET_NS, match.offset(SKEW), 0.05 * MS);
    }

    @Test
    void shouldClaimNothingWhereFramesComeAtEveryThirdEvent() {
        play(30 * MS, 3, 0);

        assertFalse(match.ready());
    }

    @Test
    void shouldClaimNothingOnACable() {
        double sentNs = 0;
        for (int frame = 0; frame < 2000; frame++) {
            double arrivalNs = 10 * MS * frame;
            match.addFrame(arrivalNs);
            if (frame > 0 && frame % 5 == 0) {
                match.addPing(sentNs, deviceNs(sentNs + 0.3 * MS));
            }
            sentNs = frame % 5 == 4 ? arrivalNs + random.nextDouble(10 * MS) : sentNs;
            nowX = deviceNs(arrivalNs);
            match.fit(0, nowX);
        }

        assertFalse(match.ready());
    }

    @Test
    void shouldTakeTheEndOfAStallForOneEvent() {
        match.addFrame(0);
        match.addFrame(3000 * MS); // All that waited for three seconds comes at once.
        for (int ping = 0; ping < 100; ping++) {
            double sentNs = 10 * MS + ping * 25 * MS;
            match.addPing(sentNs, deviceNs(sentNs + 0.3 * MS));
        }
        match.fit(0, deviceNs(3000 * MS));

        assertFalse(match.ready());
    }

    @Test
    void shouldForgetWhatIsOld() {
        play(30 * MS, 1, 0);
        match.fit(0, nowX + EventMatch.WINDOW_NS + 1);

        assertFalse(match.ready());
    }

    /** Events at which every n-th carries a frame; a ping a few events apart, of which some miss their event. */
    private void play(double intervalNs, int every, double missing) {
        double sentNs = -1;
        double receivedX = 0;
        boolean onItsWay = false;
        for (int event = 1; event < 2000; event++) {
            double atNs = event * intervalNs;
            if (event % every == 0) {
                match.addFrame(atNs + jitterNs());
            }
            if (onItsWay && event % every == 0) {
                match.addPing(sentNs, receivedX);
                onItsWay = false;
            } else if (!onItsWay && event % 4 == 0) {
                sentNs = atNs + random.nextDouble(0.02, 0.98) * intervalNs;
                double late = random.nextDouble() < missing ? intervalNs : 0;
                receivedX = deviceNs(atNs + intervalNs + late + jitterNs());
                onItsWay = true;
            }
            nowX = deviceNs(atNs);
            match.fit(0, nowX);
        }
    }

    private double jitterNs() {
        return random.nextDouble(0.1 * MS);
    }

    private static double deviceNs(double stationNs) {
        return (stationNs - OFFSET_NS) / (1 + SKEW);
    }
}

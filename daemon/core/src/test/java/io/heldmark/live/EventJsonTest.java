package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.Level;
import io.heldmark.model.Limb;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Members and their absence as {@code docs/live-protocol.md} lists them; {@code null} is never written. */
class EventJsonTest {
    private static final long S = 1_000_000_000L;

    @Test
    void shouldWriteChannelsAndLeaveOutWhatIsNotKnown() {
        ChannelInfo bare =
                new ChannelInfo(0, "tcp:c:1", "", 3, "pull", Limb.NONE, 80, 0, 0, "count", "unknown", Double.NaN, 1);
        assertEquals(
                "{\"type\":\"channels\",\"channels\":[{\"channel\":0,\"link\":\"tcp:c:1\",\"deviceChannel\":3,"
                        + "\"name\":\"pull\",\"limb\":\"none\",\"sampleRateHz\":80.0,\"unit\":\"count\","
                        + "\"calibration\":\"unknown\",\"resolution\":1.0,\"traceDelayS\":0.0,\"traceFilter\":\"none\"}]}",
                EventJson.channels(List.of(bare), List.of(TraceFilter.NONE)));
        ChannelInfo full = Channels.of(1000).get(0);
        String json = EventJson.channels(List.of(full), List.of(new TraceFilter(0.0056, "low-pass")));
        assertTrue(json.contains("\"deviceId\":\"a\"") && json.contains("\"ratedLoadN\":2000.0"), json);
        assertTrue(json.contains("\"traceDelayS\":0.0056,\"traceFilter\":\"low-pass\""), json);
    }

    @Test
    void shouldWriteEveryChannelsOwnFilter() {
        String json = EventJson.channels(
                Channels.of(1000, 1000), List.of(new TraceFilter(0.001, "one"), new TraceFilter(0.002, "two")));
        assertTrue(json.indexOf("\"one\"") > 0 && json.indexOf("\"one\"") < json.indexOf("\"channel\":1"), json);
        assertTrue(json.indexOf("\"two\"") > json.indexOf("\"channel\":1"), json);
    }

    @Test
    void shouldWriteLevels() {
        assertEquals(
                "{\"type\":\"level\",\"channels\":[{\"channel\":0,\"forceN\":{\"value\":512.3,"
                        + "\"standardUncertainty\":1.1,\"unit\":\"N\"},\"state\":\"rest\"},"
                        + "{\"channel\":1,\"state\":\"lost\"}]}",
                EventJson.levels(
                        List.of(new Level(0, "rest", new Quantity(512.3, 1.1, "N")), new Level(1, "lost", null))));
    }

    @Test
    void shouldWriteContractionsOpenAndFinished() {
        Contraction open = new Contraction(
                4, Revision.PROVISIONAL, 1, Limb.RIGHT, 12 * S + 500_000_000, 4e6, 0, 0, 2.5, List.of(), List.of());
        assertEquals(
                "{\"type\":\"contraction\",\"id\":4,\"revision\":\"provisional\",\"channel\":1,\"limb\":\"right\","
                        + "\"onsetS\":12.5,\"onsetStandardUncertaintyS\":0.004,\"restingLevelN\":2.5,\"flags\":[],"
                        + "\"metrics\":[]}",
                EventJson.contraction(open));
        Contraction closed = new Contraction(
                4,
                Revision.FINAL,
                1,
                Limb.RIGHT,
                12 * S,
                Double.NaN,
                15 * S,
                16 * S,
                0,
                List.of("gap-inside"),
                List.of(
                        MetricValue.of("force.peak", 300, 0.5, "N"),
                        MetricValue.notComputed("impulse.total", "a gap lies inside")));
        String json = EventJson.contraction(closed);
        assertTrue(json.contains("\"onsetS\":12.0,\"releaseStartS\":15.0,\"offsetS\":16.0"), json);
        assertTrue(json.contains("{\"id\":\"gap-inside\",\"text\":\"Samples are missing inside"), json);
        assertTrue(
                json.endsWith("\"metrics\":[{\"id\":\"force.peak\",\"value\":300.0,\"standardUncertainty\":0.5,"
                        + "\"unit\":\"N\"},{\"id\":\"impulse.total\",\"notComputed\":\"a gap lies inside\"}]}"),
                json);
    }

    @Test
    void shouldSayHowFarALoadWentBeyondTheCalibration() {
        Contraction within = new Contraction(
                4,
                Revision.FINAL,
                1,
                Limb.RIGHT,
                12 * S,
                Double.NaN,
                15 * S,
                16 * S,
                0,
                List.of("beyond-calibrated-range"),
                List.of(MetricValue.of("force.peak", 612.3, 2.9, "N")));
        String sentence = "The load was higher than any of the calibration: the stated uncertainty has grown with it.";
        assertTrue(EventJson.contraction(within).contains("\"text\":\"" + sentence + "\"}"));
        assertTrue(EventJson.contraction(within.beyond(400).withFlags(List.of()))
                .contains("\"text\":\"" + sentence + " Calibrated to 400 N, read 612 N above the zero.\"}"));
    }

    @Test
    void shouldWriteEfforts() {
        assertEquals(
                "{\"type\":\"effort\",\"id\":1,\"leftContractionId\":3,\"rightContractionId\":4,\"onsetLagS\":-0.025,"
                        + "\"onsetLagStandardUncertaintyS\":0.003,\"asymmetry\":{\"id\":\"asymmetry.log\",\"value\":4.2,"
                        + "\"standardUncertainty\":1.9,\"unit\":\"%\"},\"formula\":\"" + EventJson.ASYMMETRY_FORMULA
                        + "\",\"flags\":[]}",
                EventJson.effort(new Effort(
                        1, 3, 4, -25_000_000, 3e6, MetricValue.of("asymmetry.log", 4.2, 1.9, "%"), List.of())));
    }

    @Test
    void shouldWriteLinksAndLeaveOutWhatIsNotKnown() {
        LinkHealth health = new LinkHealth(
                "serial:/dev/x",
                "waiting",
                null,
                0,
                0,
                0,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                1,
                2,
                3,
                4,
                5,
                6,
                9,
                7,
                8,
                -1,
                Double.NaN);
        assertEquals(
                "{\"type\":\"link\",\"link\":\"serial:/dev/x\",\"state\":\"waiting\",\"sampleRateHz\":0.0,"
                        + "\"samples\":1,\"lostSamples\":2,\"skippedBytes\":3,\"crcFailures\":4,\"duplicates\":5,"
                        + "\"reordered\":6,\"putBack\":9,\"reconnects\":7,\"clockRestarts\":8}",
                EventJson.link(health));
    }

    @Test
    void shouldWriteEverythingThatIsKnownOfALink() {
        String known = EventJson.link(new LinkHealth(
                "serial:/dev/x",
                "lost",
                "unplugged",
                0,
                999.5,
                1000,
                2e6,
                3e6,
                -12.5,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                21.5));
        assertTrue(
                known.contains("\"reason\":\"unplugged\",\"sampleRateHz\":999.5,\"nominalRateHz\":1000.0,"
                        + "\"arrivalJitterS\":0.002,\"timeStandardUncertaintyS\":0.003,\"clockSkewPpm\":-12.5"),
                known);
        assertTrue(known.endsWith("\"batteryPercent\":0,\"temperatureC\":21.5}"), known);
    }

    @Test
    void shouldWriteAZeroOnlyWhereOneWasTaken() {
        assertEquals(
                "{\"type\":\"zero\",\"channel\":2,\"state\":\"taken\",\"atS\":3.0,\"zero\":{\"value\":-3.5,"
                        + "\"standardUncertainty\":0.25,\"unit\":\"count\"}}",
                EventJson.zero(new ZeroState(2, "taken", 3 * S, -3.5, 0.25, null), "count"));
        assertEquals(
                "{\"type\":\"zero\",\"channel\":2,\"state\":\"refused\",\"atS\":3.0,\"reason\":\"the limb moves\"}",
                EventJson.zero(new ZeroState(2, "refused", 3 * S, 0, Double.NaN, "the limb moves"), "N"));
    }

    @Test
    void shouldWriteRecordingAndReplay() {
        assertEquals("{\"type\":\"recording\",\"state\":\"off\"}", EventJson.recording(RecordingState.OFF));
        assertEquals(
                "{\"type\":\"recording\",\"state\":\"on\",\"file\":\"a.pcapng\",\"bytes\":70000000000,\"sinceS\":0.0,"
                        + "\"complete\":true}",
                EventJson.recording(new RecordingState("on", "a.pcapng", 70_000_000_000L, 0, true, null)));
        assertEquals(
                "{\"type\":\"replay\",\"file\":\"a.pcapng\",\"positionS\":1.5,\"durationS\":60.0,\"speed\":0.0,"
                        + "\"paused\":false,\"ended\":true}",
                EventJson.replay(new ReplayState("a.pcapng", 3 * S / 2, 60 * S, 0, false, true)));
    }

    @Test
    void shouldWriteTargetsMarksAndNotices() {
        assertEquals("{\"type\":\"target\"}", EventJson.target(null));
        assertEquals(
                "{\"type\":\"target\",\"forceN\":200.0,\"tolerancePercent\":10.0}",
                EventJson.target(new Target(200, 10)));
        String mark = EventJson.mark("left \"cuff\"\n</script> ✓", S / 10);
        assertEquals("{\"type\":\"mark\",\"atS\":0.1,\"text\":\"left \\\"cuff\\\"\\n</script> ✓\"}", mark);
        assertEquals("{\"type\":\"notice\",\"severity\":\"error\",\"text\":\"t\"}", EventJson.notice("error", "t"));
    }

    @Test
    void shouldWriteEqualEventsEqually() {
        Target third = new Target(1.0 / 3, 10);
        assertEquals(EventJson.target(third), EventJson.target(new Target(1.0 / 3, 10)));
        assertTrue(EventJson.target(third).contains("0.3333333333333333"), EventJson.target(third));
        assertFalse(EventJson.target(new Target(1e-5, 0)).contains("null"));
    }
}

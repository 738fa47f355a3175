package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import io.heldmark.config.Config;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TraceFilter;
import io.heldmark.pipeline.AnalysisStart;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What the analysis says of a recording in which a person has moved boundaries: each contraction once, as it was left. */
class AnalysisReportTest {
    private static final AnalysisStart START = new AnalysisStart("recording", "session", 0, Config.defaults(), false);

    private static ChannelInfo cell(int channel, String name, Limb limb) {
        return new ChannelInfo(
                channel, "serial:x", "cell", channel, name, limb, 1000, 0, 0, "N", "station", 0.002, 0.1);
    }

    private static Contraction contraction(long id, Revision revision, double onsetS, double peakN, int metrics) {
        List<MetricValue> values = new ArrayList<>();
        values.add(MetricValue.of("force.peak", peakN, 1, "N"));
        for (int i = 0; i < metrics; i++) {
            values.add(MetricValue.notComputed("metric." + i, "a reason that takes some room in the document"));
        }
        long onsetNs = Math.round(onsetS * 1e9);
        Contraction c = new Contraction(
                id,
                revision,
                (int) ((id + 1) % 2),
                id % 2 == 1 ? Limb.LEFT : Limb.RIGHT,
                onsetNs,
                2_000_000,
                onsetNs + 3_000_000_000L,
                onsetNs + 3_500_000_000L,
                0,
                List.of(),
                values);
        return c.ending(4_000_000, 1_000_000);
    }

    private static Effort effort(long id, double percent) {
        MetricValue index = MetricValue.of("asymmetry.log", percent, 0.7, "%");
        return new Effort(id, 2 * id - 1, 2 * id, 0, 1e6, index, List.of());
    }

    private static String printed(AnalysisReport report) throws Exception {
        StringWriter text = new StringWriter();
        try (report;
                PrintWriter out = new PrintWriter(text)) {
            report.onEnd(true, List.of());
            report.print(out);
        }
        return text.toString();
    }

    private static AnalysisReport fed(AnalysisReport report, int efforts, int metrics) {
        report.onStart(START);
        List<ChannelInfo> cells = List.of(cell(0, "left", Limb.LEFT), cell(1, "right", Limb.RIGHT));
        report.onChannels(cells, Collections.nCopies(2, TraceFilter.NONE), 0);
        for (int id = 1; id <= efforts; id++) {
            report.onContraction(contraction(2L * id - 1, Revision.PROVISIONAL, 10 * id, 0, 0));
            report.onContraction(contraction(2L * id - 1, Revision.FINAL, 10 * id, 400, metrics));
            report.onContraction(contraction(2L * id, Revision.FINAL, 10 * id, 390, metrics));
            report.onEffort(effort(id, 2));
        }
        return report;
    }

    private static AnalysisReport document() {
        return new AnalysisDocument("x.pcapng", START, TestQuestions.NONE);
    }

    private static JsonNode parsed(String text) throws Exception {
        List<JsonNode> documents = AnalyseCommandTest.documents(new Cli.Result(0, text, ""));
        assertEquals(1, documents.size());
        return documents.get(0);
    }

    @Test
    void shouldPrintTheBoundariesInForceBesideThoseThatWereFound() throws Exception {
        AnalysisReport report = fed(document(), 3, 0);
        report.onContraction(contraction(3, Revision.MANUAL, 19.9, 380, 0));
        report.onEffort(effort(2, -3));
        report.onContraction(contraction(3, Revision.MANUAL, 20.1, 385, 0));
        report.onEffort(effort(2, -1));
        JsonNode d = parsed(printed(report));
        assertEquals(6, d.path("contractions").size());
        JsonNode moved = d.at("/contractions/2");
        assertEquals(3, moved.path("id").asInt(), "at its place");
        assertEquals("manual", moved.path("revision").asText());
        assertEquals(20.1, moved.path("onsetS").asDouble());
        assertEquals(385, moved.at("/metrics/0/value").asDouble());
        assertEquals(
                "{\"onsetS\":20.0,\"onsetStandardUncertaintyS\":0.002,\"releaseStartS\":23.0,"
                        + "\"releaseStartStandardUncertaintyS\":0.004,\"offsetS\":23.5,"
                        + "\"offsetStandardUncertaintyS\":0.001}",
                moved.path("automatic").toString());
        assertFalse(d.at("/contractions/1").has("automatic"));
        assertEquals(3, d.path("efforts").size());
        assertEquals(2, d.at("/efforts/1/id").asInt());
        assertEquals(-1, d.at("/efforts/1/asymmetry/value").asDouble());
    }

    @Test
    void shouldForgetAMoveThatWasTakenBack() throws Exception {
        AnalysisReport report = fed(document(), 3, 0);
        report.onContraction(contraction(3, Revision.MANUAL, 19.9, 380, 0));
        report.onEffort(effort(2, -3));
        report.onContraction(contraction(3, Revision.FINAL, 20, 400, 0));
        report.onEffort(effort(2, 2));
        assertEquals(printed(fed(document(), 3, 0)), printed(report));
    }

    @Test
    void shouldSayHowFarALoadWentBeyondTheCalibration() throws Exception {
        AnalysisReport report = fed(document(), 1, 0);
        Contraction beyond = contraction(3, Revision.FINAL, 30, 612.3, 0)
                .withFlags(List.of(ContractionFlag.BEYOND_RANGE, ContractionFlag.NO_PLATEAU));
        report.onContraction(beyond.beyond(400));
        JsonNode d = parsed(printed(report));
        assertFalse(d.at("/contractions/0").has("flagTexts"));
        assertEquals(
                "{\"beyond-calibrated-range\":\"The load was higher than any of the calibration: the stated uncertainty has"
                        + " grown with it. Calibrated to 400 N, read 612 N above the zero.\"}",
                d.at("/contractions/2/flagTexts").toString());
    }

    @Test
    void shouldSayUnderWhatTheTrialsWereMeasured() throws Exception {
        assertFalse(parsed(printed(fed(document(), 1, 0))).has("saidInSession"));
        for (boolean inWords : new boolean[] {false, true}) {
            AnalysisReport report = inWords ? new AnalysisTable("x.pcapng", START, TestQuestions.NONE) : document();
            fed(report, 1, 0);
            report.onTarget(null, 0); // as every recording that begins within a session
            TestConditions both =
                    TestConditions.UNKNOWN.toBuilder().bodyMassKg(70, 0.5).build();
            TestConditions right =
                    TestConditions.UNKNOWN.toBuilder().ownMaximumN(396).build();
            report.onTrials(new SaidConditions(both, TestConditions.UNKNOWN, right), 2_500_000_000L);
            report.onTarget(new Target(200, 10), 9_000_000_000L);
            report.onTrials(SaidConditions.NONE, 12_000_000_000L);
            String text = printed(report);
            if (inWords) {
                assertTrue(
                        text.contains(
                                "  said from 9.000 s on: body mass 70 kg, body mass standard uncertainty 0.5 kg; shown target"
                                        + " 200 N; right: own maximum 396 N"),
                        text);
                continue;
            }
            assertEquals(
                    "[{\"fromS\":2.5,\"bodyMassKg\":70.0,\"bodyMassStandardUncertaintyKg\":0.5,\"right\":{\"ownMaximumN\":396.0}},"
                            + "{\"fromS\":9.0,\"bodyMassKg\":70.0,\"bodyMassStandardUncertaintyKg\":0.5,\"right\":{\"ownMaximumN\":396.0},"
                            + "\"shownTargetN\":200.0},{\"fromS\":12.0,\"shownTargetN\":200.0}]",
                    parsed(text).path("saidInSession").toString());
        }
    }

    @Test
    void shouldSayInWordsWhatIsInForce() throws Exception {
        AnalysisReport report = fed(new AnalysisTable("x.pcapng", START, TestQuestions.NONE), 2, 0);
        report.onContraction(contraction(1, Revision.MANUAL, 10.2, 380, 0));
        report.onEffort(effort(1, -3));
        String text = printed(report);
        assertTrue(
                text.contains("contraction 1, left, onset 10.2000(0.0020)\u00a0s, release from 13.2000(0.0040)\u00a0s,"
                        + " offset 13.7000(0.0010)\u00a0s, boundaries set by hand\n"
                        + "    the station had found onset 10.0000(0.0020)\u00a0s"),
                text);
        assertEquals(1, text.split("contraction 1,", -1).length - 1, text);
        assertEquals(1, text.split("left 1 with right 2", -1).length - 1, text);
    }

    /** More than fits into memory: the text lies in a temporary file, and what was moved comes at its place all the same. */
    @Test
    void shouldReplaceWhatLiesInAFile() throws Exception {
        AnalysisReport report = fed(document(), 300, 40);
        String before = printed(fed(document(), 300, 40));
        assertTrue(before.length() > 2 << 20, "characters: " + before.length());
        report.onContraction(contraction(1, Revision.MANUAL, 9.5, 300, 3));
        report.onContraction(contraction(599, Revision.MANUAL, 3000.5, 310, 50));
        report.onContraction(contraction(600, Revision.MANUAL, 3000.25, 320, 0));
        report.onEffort(effort(300, 7));
        JsonNode was = parsed(before);
        JsonNode d = parsed(printed(report));
        assertEquals(600, d.path("contractions").size());
        for (int i = 0; i < 600; i++) {
            JsonNode c = d.path("contractions").path(i);
            assertEquals(i + 1, c.path("id").asInt());
            boolean moved = i == 0 || i >= 598;
            assertEquals(moved ? "manual" : "final", c.path("revision").asText());
            assertTrue(moved || c.equals(was.path("contractions").path(i)));
        }
        assertEquals(9.5, d.at("/contractions/0/onsetS").asDouble());
        assertEquals(51, d.at("/contractions/598/metrics").size());
        assertEquals(7, d.at("/efforts/299/asymmetry/value").asDouble());
    }
}

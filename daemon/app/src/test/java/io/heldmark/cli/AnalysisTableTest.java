package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.pipeline.AnalysisStart;
import java.util.List;
import org.junit.jupiter.api.Test;

/** How the analysis writes figures for people: two digits of uncertainty, in the value's own unit. */
class AnalysisTableTest {
    private static final ChannelInfo CELL = new ChannelInfo(
            0,
            "serial:x",
            "cell",
            0,
            "left",
            Limb.LEFT,
            1000,
            0,
            0,
            "N",
            "station",
            0.002,
            0,
            new CellCalibration(400, 0, 0, "", List.of()));

    private static AnalysisTable table() {
        return new AnalysisTable("x", new AnalysisStart("", "", 0, Config.defaults(), false), TestQuestions.NONE);
    }

    @Test
    void shouldWriteFiguresWithTwoDigitsOfUncertainty() throws Exception {
        try (AnalysisTable table = table();
                ChannelTally tally = new ChannelTally("left", CELL, "", (last, next) -> "")) {
            Contraction c = new Contraction(
                    1,
                    Revision.FINAL,
                    0,
                    Limb.LEFT,
                    1_234_567_890L,
                    1_234_000,
                    3_000_000_000L,
                    3_500_000_000L,
                    0,
                    List.of("beyond-calibrated-range"),
                    List.of(MetricValue.of("force.peak", 612.34, 2.86, "N")),
                    400,
                    12_000_000,
                    610_000);
            String text = table.contraction(c, null, tally);
            assertTrue(text.contains("onset 1.2346(0.0012)\u00a0s, release from 3.000(0.012)\u00a0s,"), text);
            assertTrue(text.contains(", offset 3.50000(0.00061)\u00a0s"), text);
            assertTrue(text.contains("force.peak              612.3(2.9)\u00a0N"), text);
            assertTrue(text.contains(" Calibrated to 400 N, read 612 N above the zero."), text);
        }
    }

    @Test
    void shouldWriteTheLagWithItsUncertainty() throws Exception {
        try (AnalysisTable table = table()) {
            MetricValue index = MetricValue.of("asymmetry.log", -4.321, 0.71, "%");
            Effort e = new Effort(1, 1, 2, -12_340_000, 1_870_000, index, List.of());
            assertEquals(
                    "  left 1 with right 2: asymmetry \u22124.32(0.71)\u00a0%; left onset minus right onset"
                            + " \u221212.3(1.9)\u00a0ms",
                    table.effort(e, List.of()).stripTrailing());
        }
    }
}

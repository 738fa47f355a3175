package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CalibrateCommandTest {
    private static final String EXAMPLE = Path.of(System.getProperty("heldmark.root"))
            .resolve("docs/examples/cell-calibration-invented.csv")
            .toString();

    @TempDir
    Path folder;

    private Path csv(String text) throws Exception {
        return Files.write(folder.resolve("readings.csv"), text.getBytes(StandardCharsets.UTF_8));
    }

    private static void assertBad(Cli.Result result, String reason) {
        assertEquals(1, result.code(), result.err());
        assertEquals("", result.out());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().contains(reason), result.err());
    }

    @Test
    void shouldFindTheInventedCellOfTheExample() throws Exception {
        Cli.Result result = Cli.run(
                "calibrate",
                EXAMPLE,
                "--applied-unit",
                "kg",
                "--load-u-percent",
                "0.02",
                "--latitude-deg",
                "52",
                "--json");
        assertEquals(0, result.code(), result.err());
        JsonNode json = new JsonMapper().readTree(result.out());
        assertEquals("heldmark.calibration/1", json.path("schema").asText());
        assertEquals(44, json.path("readings").asInt());
        JsonNode slope = json.path("coefficients").path(1);
        assertEquals(
                1015.3,
                slope.path("value").asDouble(),
                4 * slope.path("standardUncertainty").asDouble());
        assertEquals(4127, json.path("coefficients").path(0).path("value").asDouble(), 250);
        double variance = json.path("covariance").path(1).path(1).asDouble();
        assertEquals(slope.path("standardError").asDouble(), Math.sqrt(variance), 1e-12);
        JsonNode load = json.path("loads").path(3);
        assertEquals(40.11, load.path("applied").asDouble(), 1e-9);
        for (String figure : new String[] {"repeatability", "reproducibility", "reversibility"}) {
            assertTrue(load.path(figure + "Percent").asDouble() > 0, figure);
        }
        assertTrue(load.has("interpolationErrorPercent") && load.has("zeroErrorPercent"));
        assertFalse(result.out().contains("null") || result.out().contains("NaN"));
    }

    @Test
    void shouldSayInWordsHowGoodTheCellIs() {
        Cli.Result result = Cli.run(
                "calibrate", EXAMPLE, "--applied-unit", "kg", "--latitude-deg", "52", "--limit", "repeatability=0.001");
        assertEquals(0, result.code(), result.err());
        assertTrue(result.out().contains("limit: at "), result.out());
        assertTrue(result.out().contains("note: the uncertainty of the applied loads was not stated"), result.out());
        assertTrue(result.out().contains("no statement of conformity"), result.out());
    }

    @Test
    void shouldRefuseATableThatGivesNoCalibration() throws Exception {
        assertBad(
                Cli.run(
                        "calibrate",
                        csv("run,direction,applied,counts\n1,up,5,50\n").toString()),
                "at the same load");
        assertBad(
                Cli.run(
                        "calibrate",
                        csv("run,direction,applied,counts\n1,up,5,x\n").toString()),
                "not a number: 'x'");
        assertBad(Cli.run("calibrate", folder.resolve("none.csv").toString(), "--json"), "no such file");
        assertBad(
                Cli.run("calibrate", EXAMPLE, "--applied-unit", "kg", "--rated-load-n", "500"),
                "beyond the rated load");
        byte[] noText = {(byte) 0xFF, (byte) 0xFE, 0};
        assertBad(
                Cli.run(
                        "calibrate",
                        Files.write(folder.resolve("b.csv"), noText).toString()),
                "no text in UTF-8");
    }

    @ParameterizedTest
    @CsvSource({
        "--degree, 3",
        "--applied-unit, stone",
        "--load-u-percent, -1",
        "--latitude-deg, 91",
        "--height-m, 100",
        "--limit, beauty=1",
        "--rated-load-n, 0"
    })
    void shouldRefuseOptionsOutOfRange(String option, String value) {
        Cli.Result result = Cli.run("calibrate", EXAMPLE, option, value);
        assertEquals(2, result.code(), result.err());
        assertTrue(result.err().contains(option) || result.err().contains("latitude"), result.err());
    }
}

package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.cells.StationDate;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.CellLog;
import io.heldmark.pipeline.StationCalibration;
import io.heldmark.time.SystemStationClock;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.w3c.dom.Document;
import org.xml.sax.InputSource;

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

    private Cli.Result keep(String... more) {
        List<String> args = new ArrayList<>(List.of(
                "calibrate",
                EXAMPLE,
                "--applied-unit",
                "kg",
                "--load-u-percent",
                "0.05",
                "--latitude-deg",
                "52",
                "--data",
                folder.toString()));
        args.addAll(List.of(more));
        return Cli.run(args.toArray(String[]::new));
    }

    @Test
    void shouldSaveVersionsThatTheStationUses() throws Exception {
        for (int version = 1; version <= 2; version++) {
            Cli.Result result =
                    keep("--save", "--device", "cell-7", "--by", "A. Invented", "--loads", "five plates", "--json");
            assertEquals(0, result.code(), result.err());
            JsonNode json = new JsonMapper().readTree(result.out());
            assertEquals("cell-7/0 v" + version, json.path("id").asText());
            assertEquals("A. Invented", json.path("calibratedBy").asText());
        }
        BoundCalibration newest = new CalibrationStore(folder)
                .validOn(StationDate.of(new SystemStationClock()).plusDays(365))
                .valid()
                .get(0);
        assertEquals("cell-7/0 v2", newest.id());
        assertEquals(1 / 1015.3, newest.calibration().newtonPerCount(), 2e-6);
        assertEquals(786.8, newest.calibration().cell().calibratedToN(), 0.1);
        assertEquals(4, newest.calibration().cell().covariance().size());
        double relativeU = newest.calibration().relativeU();
        assertTrue(relativeU > 5e-4 && relativeU < 3e-3, "u: " + relativeU);
    }

    @Test
    void shouldCheckACellAgainstItsCalibration() throws Exception {
        assertEquals(
                0, keep("--save", "--device", "cell-7", "--by", "A. Invented").code());
        String saved = folder.resolve("calibrations/cell-7/0-v1.json").toString();
        String head = "run,direction,applied,counts\n1,up,0,5000\n1,up,400,";
        String[] with = {"calibrate", csv(head + (5000 + 400 * 1015) + "\n").toString(), "--check", saved, "--json"};
        Cli.Result good = Cli.run(with);
        assertEquals(0, good.code(), good.err());
        JsonNode json = new JsonMapper().readTree(good.out());
        assertTrue(json.path("holds").asBoolean());
        assertEquals("cell-7/0 v1", json.path("calibration").asText());
        csv(head + (5000 + 404 * 1015) + "\n");
        Cli.Result off = Cli.run("calibrate", folder.resolve("readings.csv").toString(), "--check", saved);
        assertEquals(1, off.code());
        assertTrue(off.out().contains("does not hold"), off.out());
        assertEquals(1, off.err().lines().count(), off.err());
        assertEquals(
                2,
                keep("--check", saved, "--save", "--device", "c", "--by", "A").code());
        assertBad(Cli.run("calibrate", EXAMPLE, "--check", EXAMPLE), "calibration");
    }

    @Test
    void shouldKeepACheckBesideThoseOfTheViewer() throws Exception {
        assertEquals(
                0, keep("--save", "--device", "cell-7", "--by", "A. Invented").code());
        String saved = folder.resolve("calibrations/cell-7/0-v1.json").toString();
        // 50.9 kg read 0.4 % too high, 20.36 kg right: 1015.3 counts a newton (the example's), 9.8124 m/s^2 at 52
        // degrees.
        double perKg = 1015.3 * 9.8124 * (1 - 1.5e-4);
        String table = "run,direction,applied,counts\n1,up,0,5000\n1,up,20.36," + (5000 + 20.36 * perKg)
                + "\n1,up,50.9," + (5000 + 50.9 * perKg * 1.004) + "\n";
        List<String> args = new ArrayList<>(List.of("calibrate", csv(table).toString(), "--applied-unit", "kg"));
        args.addAll(
                List.of("--latitude-deg", "52", "--check", saved, "--data", folder.toString(), "--by", "A. Invented"));
        assertEquals(2, with(args, "--save").code(), "the uncertainty of the loads is missing");
        assertEquals(1, with(args, "--load-u-percent", "0.05").code());
        assertFalse(Files.exists(folder.resolve("checks")), "nobody asked for it to be kept");
        assertEquals(
                2,
                with(args, "--load-u-percent", "1", "--save", "--device", "c").code());
        Cli.Result kept = with(args, "--load-u-percent", "0.05", "--save");
        assertEquals(1, kept.code(), kept.err());
        Path file = folder.resolve("checks/cell-7/0.json");
        assertTrue(kept.err().startsWith("kept: " + file), kept.err());
        List<ObjectNode> entries = CellLog.checks(folder).entries("cell-7", 0);
        assertEquals(1, entries.size());
        ObjectNode entry = entries.get(0);
        assertEquals("cell-7/0 v1", entry.path("calibration").asText());
        assertEquals("A. Invented", entry.path("by").asText());
        assertEquals("kg", entry.path("unit").asText());
        assertEquals(50.9, entry.path("load").asDouble(), 1e-9, "the load that is off most");
        assertEquals(0.004 * 50.9 * 9.81, entry.path("differenceN").asDouble(), 0.1);
        assertEquals(5000, entry.path("zeroCounts").asDouble());
        assertFalse(entry.path("holds").asBoolean());
    }

    private static Cli.Result with(List<String> args, String... more) {
        List<String> all = new ArrayList<>(args);
        all.addAll(List.of(more));
        return Cli.run(all.toArray(String[]::new));
    }

    @Test
    void shouldWriteACertificateThatNeedsNothingElse() throws Exception {
        Path page = folder.resolve("certificate.html");
        Cli.Result result = keep(
                "--certificate",
                page.toString(),
                "--device",
                "<cell&7>",
                "--by",
                "A. Invented",
                "--limit",
                "zero=0.001");
        assertEquals(0, result.code(), result.err());
        assertEquals("certificate: " + page, result.err().strip());
        String html = Files.readString(page);
        assertTrue(html.contains("&lt;cell&amp;7&gt;") && !html.contains("<cell"));
        for (String part : new String[] {
            "Not a conformity statement",
            "A. Invented",
            "Valid until",
            "<svg",
            "@media print",
            "gravity 9.81",
            "class=\"beyond\"",
            "Standard uncertainty of the loads",
            "95 %",
            "mounting b",
            "not saved in a station"
        }) {
            assertTrue(html.contains(part), part);
        }
        assertFalse(html.matches("(?s).*(<script|<link|<img|url\\(|NaN).*"));
        Document parsed = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(html)));
        assertEquals(6, parsed.getElementsByTagName("circle").getLength());
    }

    /** The station turns counts into the force of the fitted parabola, and goes on straight beyond its loads. */
    @Test
    void shouldSaveAParabola() throws Exception {
        Cli.Result saved = keep("--save", "--by", "A. Invented", "--device", "c", "--degree", "2");
        assertEquals(0, saved.code(), saved.err());
        StationCalibration calibration = CalibrationStore.read(folder.resolve("calibrations/c/0-v1.json"))
                .calibration();
        assertEquals(9, calibration.cell().covariance().size());
        JsonNode json = new JsonMapper()
                .readTree(Cli.run(
                                "calibrate",
                                EXAMPLE,
                                "--applied-unit",
                                "kg",
                                "--latitude-deg",
                                "52",
                                "--degree",
                                "2",
                                "--json")
                        .out());
        double[] b = new double[3];
        for (int i = 0; i < 3; i++) {
            b[i] = json.path("coefficients").path(i).path("value").asDouble();
        }
        assertTrue(Math.abs(b[2]) > 0);
        for (double forceN = 0; forceN <= 750; forceN += 75) {
            assertEquals(forceN, calibration.forceN(b[0] + b[1] * forceN + b[2] * forceN * forceN), 1e-9);
        }
        Cli.Result check = Cli.run(
                "calibrate",
                csv("run,direction,applied,counts\n1,up,0," + b[0] + "\n1,up,500,"
                                + (b[0] + b[1] * 500 + b[2] * 250_000))
                        .toString(),
                "--check",
                folder.resolve("calibrations/c/0-v1.json").toString());
        assertEquals(0, check.code(), check.err());
    }

    @Test
    void shouldSaveNothingWithoutWhatACalibrationNeeds() throws Exception {
        assertEquals(2, keep("--save", "--device", "cell-7").code());
        assertEquals(2, keep("--save", "--by", "A. Invented").code());
        assertEquals(
                2,
                Cli.run("calibrate", EXAMPLE, "--save", "--by", "A", "--device", "c")
                        .code());
        Path one = csv("run,direction,applied,counts\n1,up,5,50\n");
        assertBad(
                Cli.run(
                        "calibrate",
                        one.toString(),
                        "--load-u-percent",
                        "1",
                        "--save",
                        "--by",
                        "A",
                        "--device",
                        "c",
                        "--data",
                        folder.toString()),
                "at the same load");
        assertFalse(Files.exists(folder.resolve("calibrations")));
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

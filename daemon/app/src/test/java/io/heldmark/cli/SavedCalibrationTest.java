package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** A saved calibration from the command that makes it to the recording that it is used in, on a simulated cell. */
@EnabledOnOs(OS.LINUX)
class SavedCalibrationTest {
    private static final String EXAMPLE = Path.of(System.getProperty("heldmark.root"))
            .resolve("docs/examples/cell-calibration-invented.csv")
            .toString();

    @TempDir
    Path folder;

    private Path save(String device) {
        Cli.Result saved = Cli.run(
                "calibrate",
                EXAMPLE,
                "--applied-unit",
                "kg",
                "--load-u-percent",
                "0.05",
                "--latitude-deg",
                "52",
                "--save",
                "--device",
                device,
                "--by",
                "A. Invented",
                "--data",
                folder.toString());
        assertEquals(0, saved.code(), saved.err());
        String file = saved.err().strip();
        return Path.of(file.substring(file.indexOf(' ') + 1));
    }

    @Test
    void shouldUseTheCalibrationOfTheDevice() throws Exception {
        Path first = save("invented-left");
        Path stranger = save("another cell");
        Cli.Result made;
        String ports = folder.resolve("ports").toString();
        try (Child cells = Child.start(
                "io.heldmark.simulator.cli.SimulatorMain",
                folder,
                List.of("demo", "--link", "pty", "--pty-dir", ports))) {
            cells.awaitLine("{\"cell\":\"left\"");
            made = Cli.run(
                    "record", "--left", "serial:" + ports + "/left", "--duration", "4", "--data", folder.toString());
        }
        assertEquals(0, made.code(), made.err());
        assertTrue(made.err().contains("calibrations of: "), made.err());
        assertTrue(made.err().contains("invented-left/0 v1"), made.err());
        String recording =
                folder.resolve("recordings").resolve(made.out().strip()).toString();

        JsonNode channel = channelOf(Cli.run("analyse", recording, "--json"));
        assertEquals("station", channel.path("calibration").asText());
        double relativeU = channel.path("calibrationRelativeU").asDouble();
        assertTrue(relativeU > 5e-4 && relativeU < 3e-3, "u: " + relativeU);

        Cli.Result other = Cli.run("analyse", recording, "--json", "--calibration", stranger.toString());
        assertTrue(other.err().contains("calibration another cell/0 v1 is of a device that is not in it"), other.err());
        assertEquals(relativeU, channelOf(other).path("calibrationRelativeU").asDouble());

        Cli.Result replayed = Cli.run("replay", recording, "--json", "--calibration", first.toString());
        assertEquals(0, replayed.code(), replayed.err());
        assertTrue(replayed.err().contains("calibration invented-left/0 v1 is used for "), replayed.err());
    }

    private static JsonNode channelOf(Cli.Result analysed) throws Exception {
        assertEquals(0, analysed.code(), analysed.err());
        return new JsonMapper().readTree(analysed.out()).path("channels").path(0);
    }
}

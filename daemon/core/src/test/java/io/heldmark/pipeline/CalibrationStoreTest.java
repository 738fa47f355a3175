package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.model.CellCalibration;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CalibrationStoreTest {
    private static final LocalDate DAY = LocalDate.of(2026, 3, 1);

    @TempDir
    Path folder;

    private static StationCalibration slope(double newtonPerCount) {
        CellCalibration cell = new CellCalibration(800, Double.NaN, 5e-4, "plates", List.of(0.04, 1e-5, 1e-5, 1e-6));
        return new StationCalibration(4291, newtonPerCount, 0.0011, cell);
    }

    private Path save(String device, int channel, double newtonPerCount, LocalDate until) throws IOException {
        ObjectNode document = new JsonMapper().createObjectNode().put("schema", CalibrationStore.SCHEMA);
        return new CalibrationStore(folder).save(document, device, channel, until, slope(newtonPerCount));
    }

    private CalibrationStore.Found found() {
        return new CalibrationStore(folder).validOn(DAY);
    }

    @Test
    void shouldGiveTheNewestOfEachChannel() throws Exception {
        Path first = save("cell-7", 0, 0.001, DAY);
        save("cell-7", 0, 0.002, DAY);
        save("cell-7", 1, 0.003, DAY.plusDays(9));
        CalibrationStore.Found found = found();
        assertEquals(List.of(), found.remarks());
        assertEquals(
                List.of(
                        new BoundCalibration("cell-7/1 v1", "cell-7", 1, slope(0.003), false),
                        new BoundCalibration("cell-7/0 v2", "cell-7", 0, slope(0.002), false)),
                found.valid());
        assertEquals("cell-7/0 v1", CalibrationStore.read(first).id(), "older ones stay as they are");
        try (Stream<Path> all = Files.list(first.resolveSibling("."))) {
            assertEquals(3, all.count(), "nothing half written is left");
        }
    }

    @Test
    void shouldCountVersionsBeyondNine() throws Exception {
        for (int i = 1; i <= 11; i++) {
            save("cell", 0, i, DAY);
        }
        assertEquals("cell/0 v11", found().valid().get(0).id());
    }

    @Test
    void shouldNotUseWhatIsOverAndSayIt() throws Exception {
        save("old", 0, 0.001, DAY.plusDays(99));
        save("old", 0, 0.001, DAY.minusDays(1));
        CalibrationStore.Found found = found();
        assertEquals(List.of(), found.valid(), "an older one that would still hold was replaced");
        assertTrue(
                found.remarks().get(0).contains("old/0 v2 was valid until 2026-02-28"),
                found.remarks().toString());
    }

    @Test
    void shouldPassOverADamagedFileAndNameIt() throws Exception {
        save("good", 0, 0.001, DAY);
        Path bad = save("bad", 0, 0.001, DAY);
        Files.writeString(bad, Files.readString(bad).substring(0, 60));
        Path none = save("none", 0, 0.001, DAY);
        Files.writeString(none, "{}");
        CalibrationStore.Found found = found();
        assertEquals(1, found.valid().size());
        assertEquals(2, found.remarks().size());
        assertTrue(found.remarks().stream().anyMatch(r -> r.contains(bad.toString())));
        assertThrows(ConfigException.class, () -> CalibrationStore.read(none));
        assertThrows(ConfigException.class, () -> CalibrationStore.read(folder.resolve("missing.json")));
    }

    @Test
    void shouldKeepStrangeNamesInsideItsFolder() throws Exception {
        for (String device : List.of("../../etc", "..", "a/b", "Waage Nr. 7", "\u00dc")) {
            Path file = save(device, 0, 0.001, DAY).toRealPath();
            assertTrue(file.startsWith(folder.toRealPath().resolve("calibrations")), file.toString());
            assertEquals(device, CalibrationStore.read(file).deviceId());
        }
        assertEquals(5, found().valid().size());
    }

    @Test
    void shouldUseTheVersionThatWasChosenUntilANewerOneIsSaved() throws Exception {
        save("cell-7", 0, 0.001, DAY);
        save("cell-7", 0, 0.002, DAY);
        save("cell-7", 1, 0.003, DAY);
        CalibrationStore store = new CalibrationStore(folder);
        List<CalibrationVersion> versions = store.versions("cell-7", 0);
        assertEquals(
                List.of(2, 1),
                versions.stream().map(CalibrationVersion::version).toList());
        store.choose(versions.get(1));
        assertEquals(
                List.of("cell-7/0 v1", "cell-7/1 v1"),
                found().valid().stream().map(BoundCalibration::id).toList());
        save("cell-7", 0, 0.004, DAY);
        assertEquals("cell-7/0 v3", found().valid().get(0).id());
        assertEquals(List.of(), store.versions("cell-8", 0));
    }

    @Test
    void shouldKeepABend() throws Exception {
        StationCalibration bent = new StationCalibration(
                4291, 0.001, 0.0011, slope(1).cell(), new io.heldmark.model.Bend(1e-5 / 3, -20, 800));
        ObjectNode document = new JsonMapper().createObjectNode().put("schema", CalibrationStore.SCHEMA);
        Path file = new CalibrationStore(folder).save(document, "cell-7", 0, DAY, bent);
        assertEquals(bent, CalibrationStore.read(file).calibration());
    }

    @Test
    void shouldBeEmptyWithoutAFolder() {
        assertEquals(List.of(), found().valid());
    }
}

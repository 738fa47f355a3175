package io.heldmark.link.ble.bluez;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.heldmark.simulator.scenario.Scenario;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The TinyB provider against the same stand-in for BlueZ. */
class TinybLinkTest {
    @TempDir
    Path folder;

    @Test
    void shouldStreamWithoutLoss() throws Exception {
        assumeTrue(FakeBluez.isPossible(), "dbus-daemon is not installed (Debian package dbus)");
        assumeTrue("amd64".equals(System.getProperty("os.arch")), "TinyB's natives are for other machines");
        try (FakeBluez bluez = new FakeBluez(folder)) {
            bluez.start(true);
            bluez.addCell(
                    BluezLinkTest.ADDRESS,
                    Scenario.parse(BluezLinkTest.SCENARIO, "invented"),
                    0,
                    FakeCell.Kind.SIGNALS);
            Path out = folder.resolve("out");
            Path err = folder.resolve("err");
            ProcessBuilder builder = new ProcessBuilder(
                            Path.of(System.getProperty("java.home"), "bin", "java")
                                    .toString(),
                            "-cp",
                            System.getProperty("java.class.path"),
                            "io.heldmark.link.ble.tinyb.TinybProbe",
                            BluezLinkTest.ADDRESS,
                            "100")
                    .redirectOutput(out.toFile())
                    .redirectError(err.toFile());
            builder.environment().put("DBUS_SYSTEM_BUS_ADDRESS", bluez.busAddress());
            Process process = builder.start();
            assertTrue(process.waitFor(150, TimeUnit.SECONDS), "the probe does not end");
            assertEquals("gaps 0 malformed 0 late 0", Files.readString(out).strip(), Files.readString(err));
        }
    }
}

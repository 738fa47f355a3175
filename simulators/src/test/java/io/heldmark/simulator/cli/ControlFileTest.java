package io.heldmark.simulator.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.sender.Endpoint;
import io.heldmark.simulator.sender.Pace;
import io.heldmark.simulator.sender.TcpPort;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ControlFileTest {
    @TempDir
    Path folder;

    private final ByteArrayOutputStream err = new ByteArrayOutputStream();

    private void append(String text) throws Exception {
        Files.writeString(folder.resolve("control"), text, StandardOpenOption.CREATE, StandardOpenOption.APPEND);
    }

    @Test
    void shouldNameWhatIsNoCommandAndDoEachLineOnce() throws Exception {
        VirtualCell cell = new VirtualCell(Scenario.bundled("demo"), 0);
        try (Endpoint endpoint = new Endpoint("left", cell, new TcpPort(0), new Pace(1))) {
            ControlFile control = new ControlFile(
                    folder.resolve("control"), List.of(endpoint), new PrintStream(err, true, StandardCharsets.UTF_8));
            control.poll();
            append("hang left 98.1\nhang right 5\nhang left\nhang left much\nhang left NaN\ndrop left\nfree le");
            control.poll();
            control.poll();
            String said = err.toString(StandardCharsets.UTF_8);
            assertEquals(5, said.lines().count(), said);
            assertTrue(said.contains("no such command: hang left much"), said);
            append("ft\n");
            control.poll();
            assertEquals(5, err.toString(StandardCharsets.UTF_8).lines().count(), "free left is whole now");
        }
    }
}

package io.heldmark.simulator.cli;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class SimulatorShellTest {
    @Test
    void shouldRunEachLineAndTellItsExitCode() throws Exception {
        String good = "quiet --link tcp:0 --duration 1 --speed 100 --autostart";
        String bad = "no-such-scenario --link tcp:0";
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        SimulatorShell.run(
                new ByteArrayInputStream((good + "\n\n" + bad + "\n").getBytes(StandardCharsets.UTF_8)),
                new PrintStream(out, true, StandardCharsets.UTF_8),
                new PrintStream(err, true, StandardCharsets.UTF_8));
        String said = out.toString(StandardCharsets.UTF_8);
        assertTrue(said.contains("{\"done\":\"" + good + "\",\"code\":0}"), said);
        assertTrue(said.contains("{\"done\":\"" + bad + "\",\"code\":1}"), said);
        assertTrue(err.toString(StandardCharsets.UTF_8).contains("no such file"));
    }
}

package io.heldmark.simulator.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.SamplesView;
import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.io.PrintStream;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

@Timeout(120) // A run that does not end is a failure, not a hung build.
class SimulatorMainTest {
    @TempDir
    private Path folder;

    private final ByteArrayOutputStream err = new ByteArrayOutputStream();

    /** A run in a thread of its own: its address lines, the end of its input, its exit code. */
    private final class Run implements AutoCloseable {
        private final PipedOutputStream stdin = new PipedOutputStream();
        private final BufferedReader stdout;
        private final CompletableFuture<Integer> exit;

        Run(String... args) throws IOException {
            PipedInputStream pipe = new PipedInputStream(1 << 16);
            PrintStream out = new PrintStream(new PipedOutputStream(pipe), true, StandardCharsets.UTF_8);
            stdout = new BufferedReader(new InputStreamReader(pipe, StandardCharsets.UTF_8));
            SimulateCommand command = new SimulateCommand(out, new PrintStream(err), new PipedInputStream(stdin));
            exit = CompletableFuture.supplyAsync(() -> SimulatorMain.run(command, args));
        }

        String link(String cell) throws IOException {
            JsonNode line = new ObjectMapper().readTree(stdout.readLine());
            assertEquals(cell, line.get("cell").asText());
            return line.get("link").asText();
        }

        void endInput() throws IOException {
            stdin.close();
        }

        @Override
        public void close() throws IOException {
            endInput();
        }
    }

    /** Does as a station does: asks for describe, starts, and counts. */
    private static final class Station implements MessageHandler {
        private final ByteStreamDecoder decoder = new ByteStreamDecoder(this);
        private String deviceId = "";
        private int messages;

        void talk(InputStream in, OutputStream out) throws IOException {
            byte[] wire = new byte[4096];
            ByteStreamEncoder encoder = new ByteStreamEncoder();
            out.write(wire, 0, encoder.command(new Command(Command.DESCRIBE, 1, new byte[0]), wire, 0));
            out.write(wire, 0, encoder.command(new Command(Command.START, 2, new byte[0]), wire, 0));
            while (messages < 20) {
                int count = in.read(wire);
                assertTrue(count > 0, "the stream goes on");
                decoder.accept(wire, 0, count);
            }
        }

        @Override
        public void onDescribe(Describe describe) {
            deviceId = describe.deviceId();
        }

        @Override
        public void onSamples(SamplesView samples) {
            messages++;
        }
    }

    @Test
    @EnabledOnOs(OS.LINUX)
    void shouldStreamOverPseudoTerminalsUntilItsInputEndsAndWriteTheTruth() throws IOException {
        Path truth = folder.resolve("truth.json");
        try (Run run = new Run("demo", "--exit-with-stdin", "--truth", truth.toString(), "--speed", "5")) {
            String left = run.link("left").substring("serial:".length());
            run.link("right");
            Station station = new Station();
            try (FileInputStream in = new FileInputStream(left);
                    FileOutputStream out = new FileOutputStream(left)) {
                station.talk(in, out);
            }
            assertEquals("invented-left", station.deviceId);
            assertEquals(0, station.decoder.counters().crcFailures);
            run.endInput();
            assertEquals(0, run.exit.join());
        }
        JsonNode document = new ObjectMapper().readTree(Files.readString(truth));
        assertEquals("heldmark.truth/1", document.get("schema").asText());
        assertEquals(5, document.get("speed").asDouble());
        assertTrue(document.get("startUnixNs").isIntegralNumber());
        assertEquals(2, document.get("cells").size());
    }

    @Test
    void shouldStreamOverTcpAndEndWithTheScenario() throws IOException {
        try (Run run = new Run("demo", "--link", "tcp:0", "--duration", "60", "--speed", "60")) {
            String[] address = run.link("left").split(":", -1);
            run.link("right");
            Station station = new Station();
            try (Socket socket = new Socket(address[1], Integer.parseInt(address[2]))) {
                station.talk(socket.getInputStream(), socket.getOutputStream());
            }
            assertEquals("invented-left", station.deviceId);
            assertEquals(0, run.exit.join());
        }
    }

    @Test
    void shouldEndWithOneLineAndCode1ForWhatCannotBeUsed() throws IOException {
        Path bad = Files.writeString(folder.resolve("bad.yaml"), "schema: heldmark.scenario/1\nnam: x\n");
        assertFailure(1, "bad.yaml:2: nam: unknown key", bad.toString());
        assertFailure(
                1, "nowhere.yaml: no such file", folder.resolve("nowhere.yaml").toString());
        assertFailure(
                1,
                "cannot write",
                "demo",
                "--truth",
                folder.resolve("no/such/truth.json").toString());
        try (Run first = new Run("demo", "--link", "tcp:0", "--exit-with-stdin")) {
            String port = first.link("left").replaceAll(".*:", "");
            assertFailure(1, "cannot listen on port " + port, "demo", "--link", "tcp:" + port);
            first.endInput();
            assertEquals(0, first.exit.join());
        }
    }

    @Test
    void shouldEndWithOneLineAndCode2ForWrongUsage() {
        assertFailure(2, "SCENARIO is missing");
        assertFailure(2, "--speed=0.0 is not allowed; allowed: 0.01 to 1000", "demo", "--speed", "0");
        assertFailure(2, "--duration=-1.0 is not allowed", "demo", "--duration", "-1");
        assertFailure(2, "--link=tcp:70000 is not allowed", "demo", "--link", "tcp:70000");
        assertFailure(2, "Invalid value for option '--seed'", "demo", "--seed", "x");
        assertFailure(2, "Unknown option: '--sped=2'", "demo", "--sped=2");
    }

    @Test
    void shouldListTheBundledScenarios() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PrintStream print = new PrintStream(out, true, StandardCharsets.UTF_8);
        assertEquals(0, SimulatorMain.run(new SimulateCommand(print, print, System.in), "--list"));
        String text = out.toString(StandardCharsets.UTF_8);
        assertEquals(9, text.lines().count());
        assertTrue(text.startsWith("demo: An invented person"), text);
    }

    private void assertFailure(int code, String expected, String... args) {
        err.reset();
        PrintStream print = new PrintStream(err, true, StandardCharsets.UTF_8);
        PrintStream out = new PrintStream(OutputStream.nullOutputStream());
        assertEquals(code, SimulatorMain.run(new SimulateCommand(out, print, InputStream.nullInputStream()), args));
        String text = err.toString(StandardCharsets.UTF_8);
        assertTrue(text.contains(expected), text);
        assertEquals(1, text.lines().count(), text);
        assertFalse(text.contains("Exception"), text);
    }
}

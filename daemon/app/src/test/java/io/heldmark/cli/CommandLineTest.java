package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.pipeline.CellLog;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.TextEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The command line without a running station. */
class CommandLineTest {
    private static final JsonMapper JSON = new JsonMapper();

    @TempDir
    Path folder;

    @Test
    void shouldShowTheUsageAndEndWithTwoWithoutACommand() {
        Cli.Result result = Cli.run();
        assertEquals(2, result.code());
        assertEquals("", result.out());
        for (String command :
                List.of("serve", "demo", "simulate", "record", "replay", "ports", "decode", "recordings", "analyse")) {
            assertTrue(result.err().contains("\n  " + command + " "), command);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "serve --prot 1",
                "nothing",
                "decode",
                "replay",
                "serve --port x",
                "ports extra",
                "analyse",
                "analyse --json"
            })
    void shouldEndWithTwoOnWrongUsage(String line) {
        Cli.Result result = Cli.run(line.split(" ", -1));
        assertEquals(2, result.code(), result.err());
        assertEquals("", result.out());
        assertFalse(result.err().isEmpty());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "serve --link serial --no-browser | link=serial is not allowed: write scheme:target",
                "serve --left serial:/dev/x --right serial:/dev/x --no-browser | the same channel stands twice",
                "serve --set trace.lowPassHz=-1 | trace.lowPassHz=-1 is not allowed: a number from 0 to 1000",
                "serve --set nothing=1 | nothing=1 is not allowed: there is no such setting",
                "serve --set oops | --set oops is not allowed: write key=value",
                "serve --config /no/such/file | /no/such/file: there is no such file",
                "serve --listen 0.0.0.0 | others are served with TLS (--tls-key FILE), or without if you say --insecure",
                "serve --listen 0.0.0.0 --insecure --token short | --token is too short: at least 16 characters",
                "serve --listen no.such.host.invalid | an address of this machine",
                "serve --port 65536 | a whole number from 0 to 65535",
                "serve --tls-key /no/such/file | its password is missing; set HELDMARK_TLS_PASSWORD",
                "demo --listen 0.0.0.0 | others are served with TLS",
                "record | nothing to record: name a cell with --link, --left or --right",
                "record --link foo:bar | link=foo:bar is not allowed: it begins with one of [ble, serial, tcp]",
                "record --link tcp:localhost:1 --duration 0 | --duration 0.0 is not allowed: seconds, above 0",
                "replay /no/such/file.pcapng | /no/such/file.pcapng",
                "replay x --speed 0.01 | --speed 0.01 is not allowed: 0.1 to 100, or 0",
                "decode /no/such/file | /no/such/file: there is no such file",
            })
    void shouldRefuseBadInputInOneLineAndEndWithOne(String line, String why) {
        Cli.Result result = Cli.run(line.split(" ", -1));
        assertEquals(1, result.code(), result.err());
        assertEquals("", result.out());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().startsWith("heldmark: "), result.err());
        assertTrue(result.err().contains(why), result.err());
    }

    @Test
    void shouldListPortsAsJson() throws Exception {
        Cli.Result result = Cli.run("ports", "--json", "--ble-seconds=0", "--data", folder.toString());
        assertEquals(0, result.code(), result.err());
        for (String line : result.lines()) {
            JsonNode port = JSON.readTree(line);
            assertEquals(
                    "serial:" + port.path("path").asText(), port.path("link").asText());
            assertTrue(port.path("usable").isBoolean());
        }
        assertEquals(0, Cli.run("ports", "--ble-seconds=1").code());
    }

    @Test
    void shouldListTheOverloadsOfKnownCells() throws Exception {
        CellLog overloads = CellLog.overloads(folder);
        ObjectNode one =
                JSON.createObjectNode().put(CellLog.AT, "2026-03-01T10:30:00Z").put("peakN", 650.4);
        overloads.put("cell-7", 1, one.put("ratedN", 500).put("shareOfRated", 1.3008));
        ObjectNode two =
                JSON.createObjectNode().put(CellLog.AT, "2026-04-01T10:30:00Z").put("peakN", 700.2);
        two.put("ratedN", 500).put("shareOfRated", 1.4004).put("atLeast", true).put("recording", "a.pcapng");
        overloads.put("cell-7", 1, two);
        String[] args = {"ports", "--ble-seconds=0", "--data", folder.toString()};
        Cli.Result text = Cli.run(args);
        assertEquals(0, text.code(), text.err());
        List<String> lines = text.out().lines().toList();
        assertEquals(
                List.of(
                        "cell-7, channel 1: not calibrated here; no quick check; 2 overloads",
                        "  2026-04-01: at least 700 N, 140 % of the rated load, recording a.pcapng",
                        "  2026-03-01: 650 N, 130 % of the rated load"),
                lines.subList(lines.size() - 3, lines.size()));
        String[] jsonArgs = {"ports", "--ble-seconds=0", "--json", "--data", folder.toString()};
        List<String> json = Cli.run(jsonArgs).lines();
        JsonNode cell = JSON.readTree(json.get(json.size() - 1));
        assertEquals("cell-7", cell.path("deviceId").asText());
        assertEquals(2, cell.path("overloads").size());
        assertEquals(650.4, cell.at("/overloads/0/peakN").asDouble());
        Files.writeString(folder.resolve("overloads/cell-7/1.json"), "{");
        Cli.Result broken = Cli.run(args);
        assertEquals(1, broken.code());
        assertTrue(broken.err().contains("1.json"), broken.err());
    }

    @Test
    void shouldDecodeACapturedByteStream() throws Exception {
        Path file = folder.resolve("capture.txt");
        TextEncoder encoder = new TextEncoder();
        byte[] line = new byte[4096];
        Describe describe = new Describe(
                1,
                0,
                0,
                1_000_000,
                80_000,
                "cell-1",
                "",
                "",
                List.of(),
                List.of(new Channel(0, "left", 24, 20, 128, 2000, Optional.empty())));
        byte[] bytes = Arrays.copyOf(line, encoder.describe(describe, line, 0));
        System.arraycopy(line, 0, bytes, 0, bytes.length);
        Files.write(file, bytes);
        int length = encoder.samples(7, 12_500, 0, 1, 1, new int[] {-42}, 0, 4, line, 0);
        Files.write(file, Arrays.copyOf(line, length), StandardOpenOption.APPEND);

        Cli.Result result = Cli.run("decode", file.toString(), "--json");
        assertEquals(0, result.code(), result.err());
        JsonNode described = JSON.readTree(result.lines().get(0));
        assertEquals("describe", described.path("type").asText());
        assertEquals("cell-1", described.path("deviceId").asText());
        assertEquals(80.0, described.path("sampleRateHz").asDouble());
        JsonNode samples = JSON.readTree(result.lines().get(1));
        assertEquals("samples", samples.path("type").asText());
        assertEquals(7, samples.path("sequence").asInt());
        assertEquals(12_500, samples.path("tick").asLong());
        assertEquals("[[-42]]", samples.path("counts").toString());
        JsonNode end = JSON.readTree(result.lines().get(2));
        assertEquals(bytes.length + length, end.path("bytes").asLong());
        assertEquals(3, result.lines().size());

        String words = Cli.run("decode", file.toString()).lines().get(1);
        assertEquals("samples  sequence=7  tick=12500  status=0  channelMask=1  counts=[[-42]]", words);
    }

    @Test
    void shouldSayThatAFileHoldsNoMessages() throws Exception {
        Path file = folder.resolve("noise");
        Files.write(file, "hello\nworld\n".getBytes(StandardCharsets.US_ASCII));
        Cli.Result result = Cli.run("decode", file.toString(), "--json");
        assertEquals(1, result.code());
        assertTrue(result.err().contains("no message of the protocol in it"), result.err());
    }

    @Test
    void shouldListNothingInAnEmptyFolderAndRefuseAFile() throws Exception {
        Cli.Result empty = Cli.run("recordings", "--json", "--data", folder.toString());
        assertEquals(0, empty.code());
        assertEquals("", empty.out());
        Path file = Files.createFile(folder.resolve("file"));
        Cli.Result refused = Cli.run("recordings", "--data", file.toString());
        assertEquals(1, refused.code());
        assertTrue(refused.err().contains("is a file; name a folder"), refused.err());
    }

    @Test
    void shouldSayWhichRecordingCannotBeReadAndListTheRest() throws Exception {
        Files.write(folder.resolve("foreign.pcapng"), "not a capture".getBytes(StandardCharsets.US_ASCII));
        Cli.Result result = Cli.run("recordings", "--data", folder.toString());
        assertEquals(1, result.code());
        assertTrue(result.err().contains("foreign.pcapng"), result.err());
    }

    @ParameterizedTest
    @CsvSource({
        "Linux, '', '', /home/a/.local/share/heldmark",
        "Linux, /data, '', /data/heldmark",
        "Linux, relative, '', /home/a/.local/share/heldmark",
        "Mac OS X, /data, '', /home/a/Library/Application Support/Heldmark",
        "Windows 11, '', /local, /local/Heldmark",
        "Windows 11, '', '', /home/a/AppData/Local/Heldmark",
    })
    void shouldKeepDataWhereThePlatformKeepsIt(String system, String xdg, String local, String expected) {
        Map<String, String> environment = Map.of("XDG_DATA_HOME", xdg, "LOCALAPPDATA", local);
        assertEquals(Path.of(expected), DataFolder.of(system, "/home/a", environment));
    }

    @Test
    void shouldOpenABrowserOnlyWhereThereIsAScreen() {
        assertEquals(List.of(), Browser.command("Linux", Map.of(), "http://x/"));
        assertEquals(List.of("xdg-open", "http://x/"), Browser.command("Linux", Map.of("DISPLAY", ":0"), "http://x/"));
        assertEquals(
                List.of("xdg-open", "http://x/"),
                Browser.command("Linux", Map.of("WAYLAND_DISPLAY", "wayland-0"), "http://x/"));
        assertEquals(List.of("open", "http://x/"), Browser.command("Mac OS X", Map.of(), "http://x/"));
    }
}

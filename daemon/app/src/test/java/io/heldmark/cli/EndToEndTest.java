package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.heldmark.config.Config;
import io.heldmark.model.Boundaries;
import io.heldmark.model.Contraction;
import io.heldmark.pipeline.BoundaryChange;
import io.heldmark.pipeline.LinkOpener;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.time.SystemStationClock;
import io.heldmark.web.LiveSchema;
import io.heldmark.web.RunningStation;
import io.heldmark.web.Waiting;
import io.heldmark.web.WebOptions;
import io.heldmark.web.WebServer;
import io.heldmark.web.WsClient;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole way: simulated cells in a child process, real pseudo-terminals, serial links, the station, a WebSocket client;
 * then the recording of it, replayed.
 */
@EnabledOnOs(OS.LINUX)
class EndToEndTest {
    private static final JsonMapper JSON = new JsonMapper();

    @TempDir
    Path folder;

    @Test
    void shouldShowContractionsOfSimulatedCellsSurviveTheirLossAndReplayThemAlike() throws Exception {
        Path ports = Files.createDirectory(folder.resolve("ports"));
        Path data = folder.resolve("data");
        List<String> live;
        try (Child cells = cells(ports)) {
            live = watch(ports, data, cells);
        }
        LiveSchema schema = LiveSchema.load();
        for (String event : live) {
            assertEquals(List.of(), schema.faults(event));
        }
        Path recording = onlyRecording(data);
        Cli.Result first = Cli.run("replay", recording.toString(), "--json");
        assertEquals(0, first.code(), first.err());
        assertEquals(
                first.out(), Cli.run("replay", recording.toString(), "--json").out());
        List<String> results = live.stream().filter(EndToEndTest::isResult).toList();
        assertFalse(results.isEmpty());
        assertTrue(first.lines().containsAll(results), "a live result is missing in the replay");
        for (String event : first.lines()) {
            assertEquals(List.of(), schema.faults(event));
        }
        shouldAnalyseWhatWasFoundLive(recording, live);
        Cli.Result decoded = Cli.run("decode", recording.toString(), "--json");
        assertEquals(0, decoded.code(), decoded.err());
        assertTrue(decoded.out().contains("\"type\":\"samples\""));
        Cli.Result list = Cli.run("recordings", "--json", "--data", data.toString());
        assertTrue(JSON.readTree(list.lines().get(0)).path("complete").asBoolean(), list.out() + list.err());
        shouldRefuseACutRecordingOnceAndRepairIt(recording);
    }

    private List<String> watch(Path ports, Path data, Child cells) throws Exception {
        SystemStationClock clock = new SystemStationClock();
        StationOptions options = new StationOptions(
                Config.resolve(Map.of(), Map.of(Config.ZERO_AT_START.key(), "true")), data, clock, "test", true);
        try (Station station = Station.live(
                        options,
                        LinkArguments.setups(
                                List.of("serial:" + ports.resolve("left")),
                                List.of("serial:" + ports.resolve("right")),
                                List.of()),
                        LinkOpener.ofProviders());
                WebServer server = WebServer.start(
                        new RunningStation(station),
                        clock,
                        new WebOptions(WebOptions.addressOf("127.0.0.1"), 0, null, null),
                        "test")) {
            station.start();
            WsClient client = WsClient.connect(server.port());
            seen(client, "hello", event -> event.path("invented").asBoolean());
            seen(client, "zero", event -> event.path("state").asText().equals("taken"));
            seen(client, "effort", event -> event.path("asymmetry").has("id"));
            moveABoundary(station, client);
            checkTrace(client);
            client.send(
                    "{\"type\":\"painted\",\"sequence\":" + client.binaries().size() + "}");
            seen(client, "latency", event -> event.has("arrivalToPaintedMs") && event.has("arrivalToSentMs"));

            cells.kill();
            seen(client, "link", event -> event.path("state").asText().equals("lost"));
            try (Child again = cells(ports)) {
                seen(
                        client,
                        "link",
                        event -> event.path("reconnects").asInt() >= 1
                                && event.path("state").asText().equals("streaming"));
                again.terminate();
            }
            client.close();
            return client.texts();
        }
    }

    /** Moves the first onset of an effort by 3 ms, as an analyst would in the viewer. */
    private static void moveABoundary(Station station, WsClient client) throws Exception {
        long id = lastOf(client.texts(), "effort")
                .values()
                .iterator()
                .next()
                .path("leftContractionId")
                .asLong();
        Contraction found = Objects.requireNonNull(station.review(id)).automatic();
        Boundaries to = new Boundaries(found.onsetNs() + 3_000_000, found.releaseStartNs(), found.offsetNs());
        assertTrue(station.changeBoundary(BoundaryChange.move(found, to)));
        seen(client, "contraction", event -> event.path("revision").asText().equals("manual"));
    }

    /** Returns the last word on each finished contraction or each effort, by its id. */
    private static Map<Long, JsonNode> lastOf(List<String> events, String type) throws Exception {
        Map<Long, JsonNode> last = new LinkedHashMap<>();
        for (String text : events) {
            JsonNode event = JSON.readTree(text);
            String revision = event.path("revision").asText("final");
            if (event.path("type").asText().equals(type) && (revision.equals("final") || revision.equals("manual"))) {
                last.put(event.path("id").asLong(), event);
            }
        }
        return last;
    }

    /** Every contraction and every effort that was told live, with every figure, flag and reason: the same from the file. */
    private static void shouldAnalyseWhatWasFoundLive(Path recording, List<String> live) throws Exception {
        Cli.Result result = Cli.run("analyse", recording.toString(), "--json");
        assertEquals(0, result.code(), result.err());
        JsonNode document = AnalyseCommandTest.documents(result).get(0);
        Map<Long, JsonNode> contractions = lastOf(live, "contraction");
        Map<Long, JsonNode> efforts = lastOf(live, "effort");
        assertTrue(contractions.size() >= 2 && !efforts.isEmpty(), contractions.keySet()::toString);
        for (JsonNode told : contractions.values()) {
            JsonNode found = byId(document.path("contractions"), told);
            assertSame(told, found, "revision", "limb", "onsetS", "onsetStandardUncertaintyS", "releaseStartS");
            assertSame(told, found, "offsetS", "restingLevelN");
            assertSame(told, found, "releaseStartStandardUncertaintyS", "offsetStandardUncertaintyS");
            assertEquals(told.path("metrics").size(), found.path("metrics").size());
            for (int i = 0; i < told.path("metrics").size(); i++) {
                assertEquals(told.path("metrics").get(i), found.path("metrics").get(i));
            }
        }
        for (JsonNode told : efforts.values()) {
            JsonNode found = byId(document.path("efforts"), told);
            assertSame(told, found, "leftContractionId", "rightContractionId", "onsetLagS", "asymmetry");
            assertSame(told, found, "onsetLagStandardUncertaintyS");
        }
        long manual = contractions.values().stream()
                .filter(c -> c.path("revision").asText().equals("manual"))
                .count();
        assertEquals(1, manual, "the boundary that was moved");
        int rest = document.path("contractions").size() - contractions.size();
        assertTrue(
                rest >= 0 && rest <= 4, "besides, only what nobody watched any more or was open at the end: " + rest);
    }

    private static JsonNode byId(JsonNode list, JsonNode told) {
        for (JsonNode one : list) {
            if (one.path("id").asLong() == told.path("id").asLong()) {
                List<String> flags = new ArrayList<>();
                told.path("flags").forEach(flag -> flags.add(flag.path("id").asText()));
                List<String> found = new ArrayList<>();
                one.path("flags").forEach(flag -> found.add(flag.asText()));
                assertEquals(flags, found, told.toString());
                return one;
            }
        }
        throw new AssertionError("the analysis lacks " + told);
    }

    private static void assertSame(JsonNode told, JsonNode found, String... members) {
        for (String member : members) {
            assertTrue(told.has(member), member + " of " + told);
            assertEquals(told.path(member), found.path(member), member);
        }
    }

    private static Child cells(Path ports) throws Exception {
        for (String name : List.of("left", "right")) {
            Files.deleteIfExists(ports.resolve(name)); // A killed simulator cannot take its links away.
        }
        Child cells = Child.start(
                "io.heldmark.simulator.cli.SimulatorMain",
                ports,
                List.of("demo", "--link", "pty", "--pty-dir", ports.toString()));
        cells.awaitLine("{\"cell\":\"left\"");
        cells.awaitLine("{\"cell\":\"right\"");
        return cells;
    }

    private static void checkTrace(WsClient client) throws Exception {
        client.awaitBinary(10);
        long samples = 0;
        for (ByteBuffer message : client.binaries()) {
            ByteBuffer in = message.order(ByteOrder.LITTLE_ENDIAN);
            while (in.hasRemaining()) {
                assertEquals(1, in.get(), "version");
                int kind = in.get();
                assertTrue(kind == 1 || kind == 2, "kind " + kind);
                assertTrue(in.getShort() <= 1, "channel");
                int count = in.getInt();
                assertTrue(in.getLong() > 0, "time");
                assertTrue(in.getDouble() > 0, "period");
                in.position(in.position() + 4 * count * kind);
                samples += count;
            }
        }
        assertTrue(samples > 100, "samples " + samples);
    }

    private static void seen(WsClient client, String type, Predicate<JsonNode> condition) throws Exception {
        Waiting.until(type, () -> {
            for (String text : client.texts()) {
                JsonNode event = JSON.readTree(text);
                if (event.path("type").asText().equals(type) && condition.test(event)) {
                    return true;
                }
            }
            return false;
        });
    }

    private static boolean isResult(String event) {
        return event.startsWith("{\"type\":\"effort\"")
                || (event.startsWith("{\"type\":\"contraction\"") && event.contains("\"revision\":\"final\""));
    }

    private static Path onlyRecording(Path data) throws Exception {
        try (Stream<Path> files = Files.list(data.resolve("recordings"))) {
            List<Path> found =
                    files.filter(f -> f.toString().endsWith(".pcapng")).toList();
            assertEquals(1, found.size(), found.toString());
            return found.get(0);
        }
    }

    private void shouldRefuseACutRecordingOnceAndRepairIt(Path recording) throws Exception {
        byte[] whole = Files.readAllBytes(recording);
        Path cut = folder.resolve("cut.pcapng");
        Files.write(cut, Arrays.copyOf(whole, whole.length - 777));
        Cli.Result first = Cli.run("replay", cut.toString(), "--json");
        assertEquals(1, first.code());
        assertTrue(first.err().startsWith("heldmark: " + cut), first.err());
        assertFalse(first.out().isEmpty());
        assertEquals(0, Cli.run("replay", cut.toString(), "--json").code());
        Path stub = folder.resolve("stub.pcapng");
        Files.write(stub, Arrays.copyOf(whole, 40));
        Cli.Result refused = Cli.run("replay", stub.toString(), "--json");
        assertEquals(1, refused.code());
        assertEquals(1, refused.err().lines().count(), refused.err());
        assertEquals("", refused.out());
    }
}

package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.ReplayState;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.CellLog;
import io.heldmark.pipeline.StationCalibration;
import io.heldmark.time.StationClock;
import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The quick check of an invented cell over HTTP. */
class CheckRoutesTest {
    private static final String CHECK = "/api/v1/cells/0/check";
    private static final String PLAN =
            "{\"by\":\"A. Invented\",\"load\":10,\"unit\":\"kg\",\"loadUPercent\":0.05,\"latitudeDeg\":52}";
    private static final double PER_N = 1000;
    private static final JsonMapper MAPPER = JsonMapper.builder().build();

    private final FakeStation station = new FakeStation();
    private StationClock clock = new SystemStationClock();
    private WebServer server;
    private double loadN;
    private int stillS = 60;

    @TempDir
    Path folder;

    @BeforeEach
    void start() throws Exception {
        station.dataDir = folder;
        station.channels = List.of(cell("N", "factory", 0.001));
        station.level = tolerance -> new SteadyLevel(4000 + PER_N * loadN, 12, 3000, 3, stillS > 0, stillS, false);
        WebOptions options = new WebOptions(InetAddress.getLoopbackAddress(), 0, null, null);
        server = WebServer.start(station, clock, options, "1.2");
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private static ChannelInfo cell(String unit, String calibration, double u) {
        return new ChannelInfo(
                0, "tcp:a:1", "cell-7", 0, "left", Limb.LEFT, 1000, 0, 500, unit, calibration, u, 1 / PER_N);
    }

    private JsonNode ask(int status, String methodAndPath, String body) throws Exception {
        RawHttp.Answer answer = methodAndPath.startsWith("GET")
                ? RawHttp.get(server.port(), methodAndPath.substring(4))
                : RawHttp.json(server.port(), methodAndPath, body);
        assertEquals(status, answer.status(), answer.body());
        return MAPPER.readTree(answer.body());
    }

    /** Checks with 10 kg at 52 degrees north: 98.11 N, buoyancy taken off (9.81247 m/s^2 by TR8350.2, 1.5e-4). */
    private JsonNode check(double factor) throws Exception {
        loadN = 0;
        assertEquals("zero", ask(201, "POST " + CHECK, PLAN).at("/running/next").asText());
        JsonNode zero = ask(200, "POST " + CHECK + "/readings", "{\"of\":\"zero\"}");
        assertEquals("load", zero.at("/running/next").asText());
        assertEquals(98.11, zero.at("/running/appliedN").asDouble(), 5e-3);
        loadN = factor * 98.11;
        return ask(200, "POST " + CHECK + "/readings", "{\"of\":\"load\"}");
    }

    private static List<String> ids(JsonNode state) {
        List<String> ids = new ArrayList<>();
        state.path("warnings").forEach(one -> ids.add(one.path("id").asText()));
        return ids;
    }

    private void calibrate(String evaluatedOn, LocalDate until) throws Exception {
        ObjectNode document = MAPPER.createObjectNode().put("schema", CalibrationStore.SCHEMA);
        document.put("calibratedBy", "A. Invented").put("evaluatedOn", evaluatedOn);
        Path file = new CalibrationStore(folder)
                .save(document, "cell-7", 0, until, new StationCalibration(4000, 1 / PER_N, 0.001));
        station.used = CalibrationStore.read(file);
    }

    @Test
    void shouldKeepAGoodCheckWithTheCellAndCeaseToAskForOne() throws Exception {
        assertEquals(List.of("notCheckedToday"), ids(ask(200, "GET " + CHECK, "")));
        JsonNode done = check(1.001);
        assertEquals(List.of(), ids(done));
        assertFalse(done.has("running"));
        JsonNode last = done.at("/checks/0");
        assertTrue(last.path("holds").asBoolean());
        assertEquals("factory", last.path("calibration").asText());
        assertEquals(0.098, last.path("differenceN").asDouble(), 5e-3);
        // 98.11 N times hypot(0.1 %, 0.05 %, 0.005 %) twice; scatter 12 counts sqrt(2/8) = 0.006 N.
        assertEquals(2 * Math.hypot(98.11 * 0.00112, 0.006), last.path("limitN").asDouble(), 1e-3);
        assertTrue(Files.readString(folder.resolve("checks/cell-7/0.json")).contains("A. Invented"));
    }

    @Test
    void shouldWarnWhenTheCellLeftItsLimitsUntilItIsBack() throws Exception {
        assertEquals(List.of("leftLimits"), ids(check(1.01)));
        assertEquals(List.of("leftLimits"), ids(ask(200, "GET " + CHECK, "")));
        JsonNode again = check(1.0);
        assertEquals(List.of(), ids(again));
        assertEquals(2, again.path("checks").size());
    }

    @Test
    void shouldCompareWithTheSavedCalibrationInUse() throws Exception {
        check(1.01);
        calibrate("2026-01-02", LocalDate.of(9999, 1, 1));
        assertEquals(List.of("notCheckedToday"), ids(ask(200, "GET " + CHECK, "")));
        JsonNode done = check(1.0);
        assertEquals("cell-7/0 v1", done.at("/checks/0/calibration").asText());
        assertEquals(List.of(), ids(done));
    }

    @Test
    void shouldWarnOfACalibrationThatIsOverAndOfAnOverloadSince() throws Exception {
        calibrate("2020-01-02", LocalDate.of(2020, 12, 31));
        ObjectNode overload = MAPPER.createObjectNode().put(CellLog.AT, "2020-01-02T10:00:00Z");
        CellLog.overloads(folder).put("cell-7", 0, overload.put("shareOfRated", 1.3));
        ObjectNode before = MAPPER.createObjectNode().put(CellLog.AT, "2020-01-01T10:00:00Z");
        CellLog.overloads(folder).put("cell-7", 0, before.put("shareOfRated", 1.9));
        JsonNode state = ask(200, "GET " + CHECK, "");
        assertEquals(List.of("calibrationOver", "notCheckedToday", "overloadedSince"), ids(state));
        String text = state.at("/warnings/2/text").asText();
        assertTrue(text.startsWith("Calibrated before an overload of 130 % on 2020-01-02"), text);
        assertEquals(2, state.path("overloads").size());
    }

    @Test
    void shouldTakeAReadingOnlyWhenItIsStillAndLoaded() throws Exception {
        ask(409, "POST " + CHECK + "/readings", "{\"of\":\"zero\"}");
        ask(201, "POST " + CHECK, PLAN);
        ask(409, "POST " + CHECK + "/readings", "{\"of\":\"load\"}");
        stillS = 0;
        JsonNode moving = ask(409, "POST " + CHECK + "/readings", "{\"of\":\"zero\"}");
        assertTrue(moving.path("error").asText().contains("Still moving"));
        stillS = 1;
        JsonNode level = ask(200, "GET " + CHECK, "").at("/running/level");
        assertEquals("Quiet; wait 2 s more.", level.path("why").asText());
        stillS = 60;
        ask(200, "POST " + CHECK + "/readings", "{\"of\":\"zero\"}");
        JsonNode empty = ask(409, "POST " + CHECK + "/readings", "{\"of\":\"load\"}");
        assertTrue(empty.path("error").asText().contains("put it on"));
        assertFalse(ask(200, "POST " + CHECK + "/cancel", "{}").has("running"));
        assertFalse(Files.exists(folder.resolve("checks")));
    }

    @Test
    void shouldRefuseWhatCannotBeChecked() throws Exception {
        ask(404, "GET /api/v1/cells/1/check", "");
        ask(400, "POST " + CHECK, "{\"load\":10,\"unit\":\"stone\",\"loadUPercent\":1}");
        ask(400, "POST " + CHECK, "{\"unit\":\"kg\",\"loadUPercent\":1}");
        ask(400, "POST " + CHECK, "{\"load\":0,\"unit\":\"kg\",\"loadUPercent\":1}");
        ask(400, "POST " + CHECK, "{\"load\":10,\"unit\":\"N\",\"loadUPercent\":1,\"latitudeDeg\":52}");
        JsonNode heavy = ask(400, "POST " + CHECK, "{\"load\":60,\"unit\":\"kg\",\"loadUPercent\":1}");
        assertTrue(heavy.path("error").asText().contains("made for 500.0 N at most"), heavy::toString);
        ask(400, "POST " + CHECK + "/readings", "{\"of\":\"both\"}");
        station.channels = List.of(cell("N", "factory", Double.NaN));
        ask(409, "POST " + CHECK, PLAN);
        station.channels = List.of(cell("count", "unknown", Double.NaN));
        ask(409, "POST " + CHECK, PLAN);
        station.channels = List.of(cell("N", "factory", 0.001));
        station.replay = new ReplayState("a.pcapng", 0, 1, 1, false, false);
        ask(409, "POST " + CHECK, PLAN);
        assertEquals(List.of(), ids(ask(200, "GET " + CHECK, "")));
    }

    /** 11:30 of 2 January in universal time is half past midnight of 3 January in Auckland (UTC+13 in summer). */
    @Test
    void shouldCountTheDaysOfTheStation() throws Exception {
        stop();
        long atNs = Instant.parse("2026-01-02T11:30:00Z").getEpochSecond() * 1_000_000_000L;
        clock = new StationClock() {
            @Override
            public long nowNs() {
                return 0;
            }

            @Override
            public long wallAnchorNs() {
                return atNs;
            }

            @Override
            public ZoneId zone() {
                return ZoneId.of("Pacific/Auckland");
            }
        };
        start();
        CellLog checks = CellLog.checks(folder);
        ObjectNode before =
                MAPPER.createObjectNode().put("calibration", "factory").put("holds", true);
        checks.put("cell-7", 0, before.put(CellLog.AT, "2026-01-02T10:59:00Z"));
        assertEquals(List.of("notCheckedToday"), ids(ask(200, "GET " + CHECK, "")), "an hour ago it was the 2nd");
        checks.put("cell-7", 0, before.put(CellLog.AT, "2026-01-02T11:01:00Z"));
        JsonNode state = ask(200, "GET " + CHECK, "");
        assertEquals(List.of(), ids(state), "the 3rd began at 11:00 in universal time");
        assertEquals("2026-01-03", state.at("/checks/0/day").asText());
        assertEquals("2026-01-02", state.at("/checks/1/day").asText());
        calibrate("2026-01-03", LocalDate.of(2026, 1, 3));
        ObjectNode overload = MAPPER.createObjectNode().put(CellLog.AT, "2026-01-02T11:02:00Z");
        CellLog.overloads(folder).put("cell-7", 0, overload.put("shareOfRated", 1.2));
        state = ask(200, "GET " + CHECK, "");
        assertEquals(List.of("notCheckedToday", "overloadedSince"), ids(state), "valid through its last day");
        assertTrue(state.at("/warnings/1/text").asText().contains("120 % on 2026-01-03"), state::toString);
    }

    @Test
    void shouldLeaveAHistoryAloneThatItCannotRead() throws Exception {
        Path file = folder.resolve("checks/cell-7/0.json");
        Files.createDirectories(file.getParent());
        Files.writeString(file, "{\"schema\":");
        assertTrue(ask(503, "GET " + CHECK, "").path("error").asText().contains("move it away"));
        assertEquals("{\"schema\":", Files.readString(file));
    }
}

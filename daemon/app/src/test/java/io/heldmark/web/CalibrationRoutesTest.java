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
import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The guided calibration and the saved versions of an invented cell over HTTP. */
class CalibrationRoutesTest {
    private static final String GUIDED = "/api/v1/guided-calibration";
    private static final double PER_KG = 9812.5;

    private final FakeStation station = new FakeStation();
    private WebServer server;
    private double loadKg;
    private int stillS = 60;

    @TempDir
    Path folder;

    @BeforeEach
    void start() throws Exception {
        station.dataDir = folder;
        station.channels = List.of(cell("cell-7"));
        station.level = tolerance ->
                new SteadyLevel(4000 + PER_KG * loadKg * (1 - 1e-5 * loadKg), 12, 3000, 3, stillS > 0, stillS, false);
        startServer();
    }

    private void startServer() throws Exception {
        WebOptions options = new WebOptions(InetAddress.getLoopbackAddress(), 0, null, null);
        server = WebServer.start(station, new SystemStationClock(), options, "1.2");
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private static ChannelInfo cell(String deviceId) {
        return new ChannelInfo(0, "tcp:a:1", deviceId, 0, "left", Limb.LEFT, 1000, 0, 500, "N", "factory", 0.002, 1e-3);
    }

    private static ObjectNode plan() {
        ObjectNode plan = JsonMapper.builder().build().createObjectNode().put("channel", 0);
        plan.put("by", "A. Invented")
                .put("unit", "kg")
                .put("loadUPercent", 0.03)
                .put("latitudeDeg", 52);
        plan.put("mountings", 2).put("loadsDescribed", "invented plates");
        plan.withArray("loads").add(5.01).add(10.02).add(20.03);
        return plan;
    }

    private JsonNode ask(int status, String methodAndPath, Object body) throws Exception {
        RawHttp.Answer answer = methodAndPath.startsWith("GET")
                ? RawHttp.get(server.port(), methodAndPath.substring(4))
                : RawHttp.json(server.port(), methodAndPath, body.toString());
        assertEquals(status, answer.status(), answer.body());
        return JsonMapper.builder().build().readTree(answer.body());
    }

    private JsonNode take(JsonNode state) throws Exception {
        int step = state.path("done").asInt();
        loadKg = state.path("steps").path(step).path("applied").asDouble();
        return ask(200, "POST " + GUIDED + "/steps", "{\"action\":\"take\",\"step\":" + step + "}");
    }

    private JsonNode finish() throws Exception {
        JsonNode state = ask(201, "POST " + GUIDED, plan());
        while (state.path("state").asText().equals("running")) {
            state = take(state);
        }
        return state;
    }

    @Test
    void shouldGuideFromThePlanToASavedVersionInUse() throws Exception {
        assertEquals("none", ask(200, "GET " + GUIDED, "").path("state").asText());
        JsonNode state = finish();
        assertEquals(17, state.path("steps").size());
        assertEquals("preload", state.at("/steps/0/kind").asText());
        assertEquals(0, state.at("/steps/3/doubts").size());
        assertEquals(9.812, state.path("gravityMS2").asDouble(), 1e-3);
        JsonNode result = state.path("result");
        assertEquals(4, result.path("loads").size());
        double newtons = state.path("newtonsPerUnit").asDouble();
        assertEquals(PER_KG / newtons, result.at("/coefficients/1/value").asDouble(), 0.5);
        assertFalse(state.toString().contains("NaN") || state.toString().contains("null"));

        RawHttp.Answer page = RawHttp.get(server.port(), GUIDED + "/certificate.html");
        assertEquals(200, page.status());
        assertTrue(page.body().contains("invented plates") && page.body().contains("not saved in a station"));

        RawHttp.Answer paper = RawHttp.get(server.port(), GUIDED + "/certificate.pdf");
        assertEquals(200, paper.status());
        assertTrue(paper.body().startsWith("%PDF-"), paper.body());

        JsonNode saved = ask(200, "POST " + GUIDED + "/save", "{}");
        assertEquals("cell-7/0 v1", saved.path("saved").asText());
        assertTrue(saved.path("usedAtOnce").asBoolean());
        assertEquals(List.of("use cell-7/0 v1"), station.calls);
        // The zero is the cell's own, not the one of a run: 4000 counts are no force.
        assertEquals(0, station.used.calibration().forceN(4000), 0.05);
        assertEquals(20.03 * newtons, station.used.calibration().forceN(4000 + PER_KG * 20.03 * (1 - 2.003e-4)), 0.1);
        ask(409, "POST " + GUIDED + "/save", "{}");
        ask(409, "POST " + GUIDED + "/steps", "{\"action\":\"undo\"}");

        JsonNode versions = ask(200, "GET /api/v1/cells/0/calibrations", "");
        assertEquals("A. Invented", versions.at("/versions/0/calibratedBy").asText());
        assertTrue(versions.at("/versions/0/inUse").asBoolean());
    }

    @Test
    void shouldChooseAnEarlierVersion() throws Exception {
        finish();
        ask(200, "POST " + GUIDED + "/save", "{}");
        ask(200, "POST " + GUIDED + "/cancel", "{}");
        finish();
        ask(200, "POST " + GUIDED + "/save", "{}");
        JsonNode versions = ask(200, "PUT /api/v1/cells/0/calibrations", "{\"version\":1}");
        assertEquals("cell-7/0 v1", versions.path("inUse").asText());
        assertEquals(2, versions.at("/versions/0/version").asInt());
        assertEquals("use cell-7/0 v1", station.calls.get(2));
        ask(404, "PUT /api/v1/cells/0/calibrations", "{\"version\":3}");
        ask(404, "PUT /api/v1/cells/1/calibrations", "{\"version\":1}");
        ask(400, "PUT /api/v1/cells/0/calibrations", "{}");
    }

    @Test
    void shouldGoOnAfterTheStationWasStartedAgain() throws Exception {
        JsonNode before = take(take(ask(201, "POST " + GUIDED, plan())));
        server.close();
        startServer();
        assertEquals(before, ask(200, "GET " + GUIDED, ""));
        assertEquals(3, take(before).path("done").asInt());
        assertEquals(
                2,
                ask(200, "POST " + GUIDED + "/steps", "{\"action\":\"undo\"}")
                        .path("done")
                        .asInt());
    }

    @Test
    void shouldSaveNothingWhenItIsCancelled() throws Exception {
        take(ask(201, "POST " + GUIDED, plan()));
        assertEquals(
                "none",
                ask(200, "POST " + GUIDED + "/cancel", "{}").path("state").asText());
        assertFalse(Files.exists(folder.resolve("guided-calibration.json")));
        assertFalse(Files.exists(folder.resolve("calibrations")));
        ask(409, "POST " + GUIDED + "/save", "{}");
        ask(409, "GET " + GUIDED + "/certificate.html", "");
        ask(409, "GET " + GUIDED + "/certificate.pdf", "");
    }

    @Test
    void shouldTakeAStepOnceAndOnlyWhenTheCellIsStill() throws Exception {
        JsonNode state = take(ask(201, "POST " + GUIDED, plan()));
        ask(409, "POST " + GUIDED + "/steps", "{\"action\":\"take\",\"step\":0}");
        stillS = 4;
        JsonNode level = ask(200, "GET " + GUIDED + "/level", "");
        assertFalse(level.path("ready").asBoolean());
        assertTrue(level.path("why").asText().contains("wait 6 s more"), level::toString);
        stillS = 0;
        JsonNode refused = ask(409, "POST " + GUIDED + "/steps", "{\"action\":\"take\",\"step\":1}");
        assertTrue(refused.path("error").asText().contains("Still moving"), refused::toString);
        JsonNode forced = ask(200, "POST " + GUIDED + "/steps", "{\"action\":\"take\",\"step\":1,\"anyway\":true}");
        assertTrue(forced.at("/steps/1/doubts/0").asText().contains("still moving"), forced::toString);
        assertEquals(state.path("done").asInt() + 1, forced.path("done").asInt());
        station.level = null;
        ask(409, "POST " + GUIDED + "/steps", "{\"action\":\"take\",\"step\":2,\"anyway\":true}");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "by | \"\" | Say who calibrates",
                "unit | \"stone\" | unit is one of",
                "loads | [5] | needs 2 different loads",
                "loads | [5, 5] | each greater than the one before",
                "loads | [5, \"x\"] | list of numbers",
                "loads | [20, 60] | made for 500.0 N at most",
                "latitudeDeg | 91 | from -90 to 90",
                "mountings | 1.5 | whole number",
                "degree | 3 | from 1 to 2",
                "loadUPercent | \"much\" | number from 0 to 50",
                "beauty | 1 | no member beauty",
                "channel | \"left\" | channel is the number",
            })
    void shouldRefuseABadPlanInOneSentence(String name, String value, String words) throws Exception {
        ObjectNode plan = plan();
        plan.set(name, JsonMapper.builder().build().readTree(value));
        String error = ask(400, "POST " + GUIDED, plan).path("error").asText();
        assertTrue(error.contains(words), error);
        assertEquals("none", ask(200, "GET " + GUIDED, "").path("state").asText());
    }

    @Test
    void shouldRefuseWhatCannotBeCalibratedNow() throws Exception {
        ask(404, "POST " + GUIDED, plan().put("channel", 4));
        ask(201, "POST " + GUIDED, plan());
        ask(409, "POST " + GUIDED, plan());
        ask(400, "POST " + GUIDED + "/steps", "{\"action\":\"dance\"}");
        ask(200, "POST " + GUIDED + "/cancel", "{}");
        station.replay = new ReplayState("a.pcapng", 0, 1, 1, false, false);
        ask(409, "POST " + GUIDED, plan());
    }

    @Test
    void shouldSaveNoCalibrationOfADeviceWithoutIdentity() throws Exception {
        station.channels = List.of(cell(""));
        finish();
        String error = ask(409, "POST " + GUIDED + "/save", "{}").path("error").asText();
        assertTrue(error.contains("tells no identity"), error);
        assertEquals(
                0,
                ask(200, "GET /api/v1/cells/0/calibrations", "")
                        .path("versions")
                        .size());
    }
}

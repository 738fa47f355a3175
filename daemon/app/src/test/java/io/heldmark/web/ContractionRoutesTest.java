package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.heldmark.metric.MetricRegistry;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import io.heldmark.pipeline.Review;
import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** One contraction over HTTP: what is told of it, its samples, its boundaries. */
class ContractionRoutesTest {
    private static final JsonMapper JSON = new JsonMapper();
    private static final String PATH = "/api/v1/contractions/7";
    private static final ChannelInfo CHANNEL =
            new ChannelInfo(0, "test", "", 0, "left", Limb.LEFT, 1000, 0, 0, "N", "factory", 0.002, 0.01);
    private static final Window WINDOW = new Plateau();

    private final FakeStation station = new FakeStation();
    private WebServer server;
    private int port;

    @BeforeEach
    void start() throws Exception {
        server = WebServer.start(
                station,
                new SystemStationClock(),
                new WebOptions(InetAddress.getLoopbackAddress(), 0, null, null),
                "1.2");
        port = server.port();
        station.review = review(null, WINDOW);
    }

    @AfterEach
    void stop() {
        server.close();
    }

    @Test
    void shouldTellWhatWasFoundAndWhereMetricsWereTakenFrom() throws Exception {
        JsonNode json = get(PATH);
        assertEquals("final", json.at("/automatic/revision").asText());
        assertEquals(List.of(), LiveSchema.load().faults(json.path("automatic").toString()));
        assertFalse(json.has("manual"));
        assertEquals(7, json.at("/effort/leftContractionId").asInt());
        assertEquals(2000, json.path("samples").asInt());
        assertEquals(10, json.path("firstS").asDouble());
        assertEquals(11.999, json.path("lastS").asDouble());
        JsonNode peak = json.at("/marks/0");
        assertEquals("force.peak", peak.path("id").asText());
        assertEquals("level", peak.path("kind").asText());
        assertEquals(0.1, peak.path("toS").asDouble() - peak.path("fromS").asDouble(), 1e-9);
        assertEquals(200, peak.path("fromN").asDouble());
    }

    @Test
    void shouldTellBothRevisionsWhereABoundaryWasMoved() throws Exception {
        station.review = review(contraction(Revision.MANUAL), WINDOW);
        JsonNode json = get(PATH);
        assertEquals("final", json.at("/automatic/revision").asText());
        assertEquals("manual", json.at("/manual/revision").asText());
    }

    @Test
    void shouldGiveEverySampleWithItsTimeAndEveryGap() throws Exception {
        JsonNode json = get(PATH + "/samples");
        assertEquals(10_000_000_000L, json.path("t0Ns").asLong());
        assertEquals(2000, json.path("timeNs").size());
        assertEquals(1_500_000_000L, json.at("/timeNs/1500").asLong());
        assertEquals(200, json.at("/forceN/500").asDouble());
        assertEquals(JSON.readTree("[1200]"), json.path("gapBefore"));
    }

    @Test
    void shouldSayThatSamplesAreGone() throws Exception {
        station.review = review(null, null);
        assertEquals(Review.GONE, get(PATH).path("gone").asText());
        RawHttp.Answer answer = RawHttp.get(port, PATH + "/samples");
        assertEquals(404, answer.status());
        assertEquals(Review.GONE, JSON.readTree(answer.body()).path("error").asText());
    }

    @Test
    void shouldMoveWhatIsNamedAndLeaveTheRest() throws Exception {
        assertEquals(200, post("{\"onsetS\":10.25}").status());
        assertEquals(200, post("{\"releaseStartS\":11.4,\"offsetS\":11.5}").status());
        assertEquals(200, post("{\"change\":\"undo\"}").status());
        assertEquals(
                List.of(
                        "boundary MOVE Boundaries[onsetNs=10250000000, releaseStartNs=11500000000, offsetNs=11600000000]",
                        "boundary MOVE Boundaries[onsetNs=10400000000, releaseStartNs=11400000000, offsetNs=11500000000]",
                        "boundary UNDO null"),
                station.takeCalls());
    }

    @Test
    void shouldRefuseWithTheStationsReason() throws Exception {
        station.refusal = "The onset must come before the start of the release.";
        RawHttp.Answer answer = post("{\"onsetS\":20}");
        assertEquals(409, answer.status());
        assertEquals("{\"error\":\"" + station.refusal + "\"}", answer.body());
        assertEquals(List.of(), station.takeCalls());
        station.refusal = null;
        station.busy = true;
        assertEquals(503, post("{\"onsetS\":10.5}").status());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{}|Give change, or at least one of onsetS, releaseStartS, offsetS.",
                "{\"onsetS\":\"x\"}|onsetS is a station time in seconds.",
                "{\"offsetS\":1e300}|offsetS is a station time in seconds.",
                "{\"change\":\"move\"}|change is \"undo\", \"redo\" or \"automatic\", and stands alone.",
                "{\"change\":\"undo\",\"onsetS\":1}|change is \"undo\", \"redo\" or \"automatic\", and stands alone.",
            })
    void shouldRefuseWhatMakesNoSense(String body, String sentence) throws Exception {
        RawHttp.Answer answer = post(body);
        assertEquals(400, answer.status());
        assertEquals(sentence, JSON.readTree(answer.body()).path("error").asText());
    }

    @ParameterizedTest
    @CsvSource({"8", "x", "-1", "99999999999999999999"})
    void shouldNotKnowOtherContractions(String id) throws Exception {
        RawHttp.Answer answer = RawHttp.get(port, "/api/v1/contractions/" + id);
        assertEquals(404, answer.status());
        assertTrue(answer.body().contains("no such finished contraction"), answer.body());
    }

    @Test
    void shouldListTheMetricsInWords() throws Exception {
        JsonNode json = get("/api/v1/metrics");
        assertEquals(
                MetricRegistry.standard().metrics().size(),
                json.path("contraction").size());
        assertEquals("force.peak", json.at("/contraction/0/id").asText());
        assertEquals("Peak force", json.at("/contraction/0/title").asText());
        assertTrue(json.path("effort").size() > 0);
    }

    private JsonNode get(String path) throws Exception {
        RawHttp.Answer answer = RawHttp.get(port, path);
        assertEquals(200, answer.status(), answer.body());
        return JSON.readTree(answer.body());
    }

    private RawHttp.Answer post(String body) throws Exception {
        return RawHttp.json(port, "POST " + PATH + "/boundaries", body);
    }

    private static Review review(@Nullable Contraction manual, @Nullable Window window) {
        Effort effort = new Effort(3, 7, 8, 0, 1000, MetricValue.notComputed("asymmetry.log", "why"), List.of());
        return new Review(CHANNEL, contraction(Revision.FINAL), manual, window, 1000, effort, false, false);
    }

    private static Contraction contraction(Revision revision) {
        return new Contraction(
                7,
                revision,
                0,
                Limb.LEFT,
                WINDOW.onsetNs(),
                1e6,
                WINDOW.releaseStartNs(),
                WINDOW.offsetNs(),
                0,
                List.of("gap-inside"),
                MetricRegistry.standard().compute(WINDOW));
    }

    /** 200 N from 10.4 s to 11.6 s, 1 kHz, a gap before 11.2 s. */
    private record Plateau() implements Window {
        @Override
        public int size() {
            return 2000;
        }

        @Override
        public long timeNs(int index) {
            return 10_000_000_000L + index * 1_000_000L;
        }

        @Override
        public double forceN(int index) {
            return index >= 400 && index <= 1600 ? 200 : 0;
        }

        @Override
        public boolean gapBefore(int index) {
            return index == 1200;
        }

        @Override
        public int onsetIndex() {
            return 400;
        }

        @Override
        public int offsetIndex() {
            return 1600;
        }

        @Override
        public long onsetNs() {
            return timeNs(400);
        }

        @Override
        public long releaseStartNs() {
            return timeNs(1500);
        }

        @Override
        public long offsetNs() {
            return timeNs(1600);
        }

        @Override
        public double onsetStandardUncertaintyNs() {
            return 1e6;
        }

        @Override
        public double offsetStandardUncertaintyNs() {
            return 1e6;
        }

        @Override
        public double timeStandardUncertaintyNs() {
            return 1e5;
        }

        @Override
        public double restingLevelN() {
            return 0;
        }

        @Override
        public double restingNoiseN() {
            return 0.5;
        }

        @Override
        public double restingCorrelationSamples() {
            return 1;
        }

        @Override
        public double sampleRateHz() {
            return 1000;
        }

        @Override
        public ChannelInfo channel() {
            return CHANNEL;
        }

        @Override
        public ZeroReference zero() {
            return ZeroReference.taken(0, 0.1, 0);
        }

        @Override
        public TestConditions conditions() {
            return TestConditions.UNKNOWN;
        }
    }
}

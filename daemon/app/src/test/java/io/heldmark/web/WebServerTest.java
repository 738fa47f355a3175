package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ReplayState;
import io.heldmark.time.SystemStationClock;
import java.io.IOException;
import java.net.BindException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The HTTP interface on a real server, without a token. */
class WebServerTest {
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
    }

    @AfterEach
    void stop() {
        server.close();
    }

    @Test
    void shouldSayThatItIsUpWithEverySecurityHeader() throws Exception {
        RawHttp.Answer answer = RawHttp.get(port, "/healthz");
        assertEquals(200, answer.status());
        assertEquals("{\"status\":\"ok\",\"version\":\"1.2\"}", answer.body());
        assertTrue(answer.header("Content-Security-Policy").startsWith("default-src 'self';"));
        assertFalse(answer.header("Content-Security-Policy").contains("unsafe"));
        assertEquals("nosniff", answer.header("X-Content-Type-Options"));
        assertEquals("DENY", answer.header("X-Frame-Options"));
        assertEquals("no-referrer", answer.header("Referrer-Policy"));
        assertEquals("no-store", answer.header("Cache-Control"));
        assertEquals("", answer.header("Server"));
        assertEquals("http://127.0.0.1:" + port + "/", server.url());
    }

    @ParameterizedTest
    @ValueSource(strings = {"/", "/healthz", "/metrics", "/api/v1/station", "/nothing", "/assets/x.js"})
    void shouldRefuseForeignHostsAndOriginsEverywhere(String path) throws Exception {
        for (String headers : List.of(
                "Host: evil.example:" + port + "\r\n",
                "Host: localhost:" + port + "\r\nOrigin: http://evil.example\r\n",
                "Host: localhost:" + port + "\r\nOrigin: null\r\n")) {
            RawHttp.Answer answer = RawHttp.send(port, "GET " + path, headers, "");
            assertEquals(403, answer.status(), path + " " + headers);
            assertTrue(answer.body().startsWith("{\"error\":\""), answer.body());
            assertTrue(answer.header("Content-Security-Policy").startsWith("default-src 'self'"));
        }
        assertTrue(RawHttp.get(port, "/metrics").body().contains("heldmark_http_refused_total 3\n"));
    }

    @ParameterizedTest
    @CsvSource({"localhost, 101", "127.0.0.1, 101", "[::1], 101", "evil.example, 403"})
    void shouldUpgradeOnlyForItsOwnHost(String host, int status) throws Exception {
        assertEquals(status, upgrade("Host: " + host + ":" + port + "\r\n").status());
    }

    @Test
    void shouldUpgradeOnlyForItsOwnPage() throws Exception {
        String host = "Host: localhost:" + port + "\r\n";
        assertEquals(
                101, upgrade(host + "Origin: http://localhost:" + port + "\r\n").status());
        assertEquals(403, upgrade(host + "Origin: http://evil.example\r\n").status());
        assertEquals(403, upgrade(host + "Origin: http://localhost:1\r\n").status());
        assertEquals(403, upgrade(host + "Origin: null\r\n").status());
    }

    @Test
    void shouldNotCompressTheTrace() throws Exception {
        RawHttp.Answer answer = upgrade("Host: localhost:" + port
                + "\r\nSec-WebSocket-Extensions: permessage-deflate; client_max_window_bits\r\n");
        assertEquals(101, answer.status());
        assertEquals("", answer.header("Sec-WebSocket-Extensions"));
    }

    @Test
    void shouldGiveTheStationAndItsFigures() throws Exception {
        assertEquals(
                "{\"schema\":\"heldmark.live/1\"}",
                RawHttp.get(port, "/api/v1/station").body());
        RawHttp.Answer metrics = RawHttp.get(port, "/metrics");
        assertTrue(
                metrics.header("Content-Type").startsWith("text/plain; version=0.0.4"), metrics.header("Content-Type"));
        assertTrue(metrics.body().contains("heldmark_test 1.5\n"));
        assertTrue(metrics.body().contains("# TYPE process_cpu_seconds_total counter\n"));
    }

    @Test
    void shouldTellNobodyWhatFailedInside() throws Exception {
        station.broken = true;
        RawHttp.Answer answer = RawHttp.get(port, "/api/v1/station");
        assertEquals(500, answer.status());
        assertEquals("{\"error\":\"The station failed at this request; its log says why.\"}", answer.body());
        assertTrue(RawHttp.get(port, "/metrics").body().contains("heldmark_http_failed_total 1\n"));
    }

    @Test
    void shouldTakeZeroMarkAndTarget() throws Exception {
        assertAnswer(202, "{}", RawHttp.json(port, "POST /api/v1/zero", "{}"));
        assertAnswer(202, "{}", RawHttp.json(port, "POST /api/v1/zero", "{\"channels\":[1,0]}"));
        assertAnswer(
                200,
                "{\"type\":\"mark\",\"atS\":1.5,\"text\":\"left cuff moved\"}",
                RawHttp.json(port, "POST /api/v1/marks", "{\"text\":\" left cuff moved \"}"));
        assertAnswer(
                200,
                "{\"type\":\"target\",\"forceN\":200.0,\"tolerancePercent\":10.0}",
                RawHttp.json(port, "PUT /api/v1/target", "{\"forceN\":200,\"tolerancePercent\":10}"));
        assertAnswer(200, "{\"type\":\"target\"}", RawHttp.json(port, "PUT /api/v1/target", "{}"));
        assertEquals(
                List.of(
                        "zero []",
                        "zero [1, 0]",
                        "mark left cuff moved",
                        "target Target[forceN=200.0, tolerancePercent=10.0]",
                        "target null"),
                station.takeCalls());
    }

    @Test
    void shouldTakeWhatIsSaidOfTheTrials() throws Exception {
        assertAnswer(
                200,
                "{\"type\":\"trials\",\"cue\":\"explosive\",\"left\":{\"ownMaximumN\":410.5}}",
                RawHttp.json(port, "PUT /api/v1/trials", "{\"cue\":\"explosive\",\"left\":{\"ownMaximumN\":410.5}}"));
        assertAnswer(200, "{\"type\":\"trials\"}", RawHttp.json(port, "PUT /api/v1/trials", "{}"));
        assertEquals(List.of("trials 410.5 EXPLOSIVE", "trials NaN UNKNOWN"), station.takeCalls());
        RawHttp.Answer refused = RawHttp.json(port, "PUT /api/v1/trials", "{\"left\":{\"bodyMassKg\":2}}");
        assertEquals(400, refused.status());
        assertTrue(refused.body().contains("left.bodyMassKg 2 is not allowed: 5.0 to 500.0"), refused.body());
    }

    @Test
    void shouldStartAndEndARecording() throws Exception {
        assertAnswer(
                200,
                "{\"type\":\"recording\",\"state\":\"on\",\"file\":\"a.pcapng\",\"bytes\":512,\"sinceS\":2.0,\"complete\":true}",
                RawHttp.json(port, "POST /api/v1/recording", "{\"action\":\"start\"}"));
        assertAnswer(
                200,
                "{\"type\":\"recording\",\"state\":\"off\"}",
                RawHttp.json(port, "POST /api/v1/recording", "{\"action\":\"stop\"}"));
    }

    @Test
    void shouldControlAReplay() throws Exception {
        assertEquals(
                409,
                RawHttp.json(port, "POST /api/v1/replay", "{\"paused\":true}").status());
        station.replay = new ReplayState("a.pcapng", 1_000_000_000L, 4_000_000_000L, 2, false, false);
        assertAnswer(
                200,
                "{\"type\":\"replay\",\"file\":\"a.pcapng\",\"positionS\":1.0,\"durationS\":4.0,\"speed\":2.0,"
                        + "\"paused\":false,\"ended\":false}",
                RawHttp.json(port, "POST /api/v1/replay", "{\"paused\":true,\"speed\":0,\"restart\":true}"));
        assertEquals(List.of("speed 0.0", "pause true", "restart"), station.takeCalls());
        assertEquals(409, RawHttp.json(port, "POST /api/v1/zero", "{}").status());
        assertEquals(409, RawHttp.json(port, "PUT /api/v1/target", "{}").status());
        assertEquals(409, RawHttp.json(port, "PUT /api/v1/trials", "{}").status());
        assertEquals(
                409,
                RawHttp.json(port, "POST /api/v1/marks", "{\"text\":\"x\"}").status());
        assertEquals(
                409,
                RawHttp.json(port, "POST /api/v1/recording", "{\"action\":\"start\"}")
                        .status());
        assertEquals(List.of(), station.takeCalls());
    }

    @Test
    void shouldSayWhenItIsTooBusy() throws Exception {
        station.busy = true;
        assertEquals(503, RawHttp.json(port, "POST /api/v1/zero", "{}").status());
        assertEquals(
                503,
                RawHttp.json(port, "POST /api/v1/marks", "{\"text\":\"x\"}").status());
        assertEquals(503, RawHttp.json(port, "PUT /api/v1/target", "{}").status());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "POST /api/v1/zero | [] | 400",
                "POST /api/v1/zero | {\"channels\":[]} | 400",
                "POST /api/v1/zero | {\"channels\":[-1]} | 400",
                "POST /api/v1/zero | {\"channels\":[0.5]} | 400",
                "POST /api/v1/zero | {\"channels\":0} | 400",
                "POST /api/v1/zero | {\"channel\":[0]} | 400",
                "POST /api/v1/zero | {\"channels\":[9]} | 404",
                "POST /api/v1/zero | {\"channels\":[0]} {} | 400",
                "POST /api/v1/zero | {\"channels\":[0],\"channels\":[1]} | 400",
                "POST /api/v1/zero | not json | 400",
                "POST /api/v1/marks | {} | 400",
                "POST /api/v1/marks | {\"text\":7} | 400",
                "POST /api/v1/marks | {\"text\":\"  \"} | 400",
                "POST /api/v1/recording | {\"action\":\"pause\"} | 400",
                "POST /api/v1/recording | {} | 400",
                "PUT /api/v1/trials | {\"cue\":\"loud\"} | 400",
                "PUT /api/v1/trials | {\"cue\":1} | 400",
                "PUT /api/v1/trials | {\"holdS\":\"3\"} | 400",
                "PUT /api/v1/trials | {\"mood\":1} | 400",
                "PUT /api/v1/trials | {\"left\":3} | 400",
                "PUT /api/v1/target | {\"forceN\":200} | 400",
                "PUT /api/v1/target | {\"forceN\":-1,\"tolerancePercent\":5} | 400",
                "PUT /api/v1/target | {\"forceN\":1e400,\"tolerancePercent\":5} | 400",
                "PUT /api/v1/target | {\"forceN\":200,\"tolerancePercent\":101} | 400",
                "POST /api/v1/replay | {} | 400",
                "POST /api/v1/replay | {\"speed\":-1} | 400",
                "POST /api/v1/replay | {\"speed\":0.05} | 400",
                "POST /api/v1/replay | {\"paused\":1} | 400",
                "POST /api/v1/session | {} | 400",
                "POST /api/v1/nothing | {} | 404",
                "DELETE /api/v1/zero | {} | 404",
            })
    void shouldRefuseBadRequestsWithOneSentence(String methodAndPath, String body, int status) throws Exception {
        RawHttp.Answer answer = RawHttp.json(port, methodAndPath, body);
        assertEquals(status, answer.status(), answer.body());
        assertTrue(answer.body().matches("\\{\"error\":\"[A-Za-z][^\\n]*[.)]?\"}"), answer.body());
        assertFalse(answer.body().contains("Exception"), answer.body());
        assertEquals(List.of(), station.takeCalls());
    }

    @Test
    void shouldRefuseABodyThatIsNotSentAsJsonOrIsTooLong() throws Exception {
        String host = "Host: localhost:" + port + "\r\n";
        assertEquals(400, RawHttp.send(port, "POST /api/v1/zero", host, "{}").status());
        assertEquals(
                400,
                RawHttp.send(port, "POST /api/v1/zero", host + "Content-Type: text/plain\r\n", "{}")
                        .status());
        String mark = "{\"text\":\"" + "x".repeat(501) + "\"}";
        String limit = "{\"error\":\"text is a sentence of 1 to 500 characters.\"}";
        assertAnswer(400, limit, RawHttp.json(port, "POST /api/v1/marks", mark));
        String huge = "{\"text\":\"" + "x".repeat(Json.MAX_BODY_BYTES) + "\"}";
        RawHttp.Answer answer = RawHttp.json(port, "POST /api/v1/marks", huge);
        assertAnswer(400, "{\"error\":\"The body is too long.\"}", answer);
        String chunked = host + "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n";
        String chunk = Integer.toHexString(huge.length()) + "\r\n" + huge + "\r\n0\r\n\r\n";
        assertEquals(400, sendChunked(chunked, chunk).status());
    }

    @Test
    void shouldServeNothingButTheViewersFiles() throws Exception {
        for (String path : List.of(
                "/../pom.xml",
                "/%2e%2e/pom.xml",
                "/assets/../../META-INF/MANIFEST.MF",
                "/assets/%2e%2e/x.js",
                "/.hidden.js",
                "/assets",
                "/assets/",
                "/io/heldmark/web/WebServer.class",
                "/assets/none.js",
                "/ws/none.js",
                "/x\\y.js",
                "/x%00.js")) {
            RawHttp.Answer answer = RawHttp.get(port, path);
            assertTrue(answer.status() == 404 || answer.status() == 400, path + " " + answer.status());
        }
    }

    @Test
    void shouldSayInOneLineThatThePortIsInUse() throws Exception {
        try (ServerSocket other = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            WebOptions options = new WebOptions(InetAddress.getLoopbackAddress(), other.getLocalPort(), null, null);
            BindException refusal = assertThrows(
                    BindException.class, () -> WebServer.start(station, new SystemStationClock(), options, "1.2"));
            assertEquals(
                    "port " + other.getLocalPort()
                            + " is in use, perhaps by another Heldmark station; end that, or choose"
                            + " another with --port " + (other.getLocalPort() + 1),
                    refusal.getMessage());
        }
    }

    /** 192.0.2.1 is for documentation only and never an address of a machine (RFC 5737). */
    @Test
    void shouldSayThatAnAddressIsNotOfThisMachine() {
        WebOptions options = new WebOptions(WebOptions.addressOf("192.0.2.1"), 0, "0123456789abcdef", null);
        BindException refusal = assertThrows(
                BindException.class, () -> WebServer.start(station, new SystemStationClock(), options, "1.2"));
        assertTrue(
                refusal.getMessage().startsWith("192.0.2.1 is not an address of this machine"), refusal.getMessage());
    }

    private RawHttp.Answer sendChunked(String headers, String body) throws IOException {
        // The length header that RawHttp adds would contradict the chunks, so that they travel as "no body".
        return RawHttp.send(port, "POST /api/v1/marks", headers + "Connection: close\r\n\r\n" + body + "X: ", "");
    }

    private RawHttp.Answer upgrade(String headers) throws IOException {
        return RawHttp.send(
                port,
                "GET /ws/live",
                headers + "Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n"
                        + "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n",
                "");
    }

    private static void assertAnswer(int status, String body, RawHttp.Answer answer) {
        assertEquals(status, answer.status(), answer.body());
        assertEquals(body, answer.body());
    }
}

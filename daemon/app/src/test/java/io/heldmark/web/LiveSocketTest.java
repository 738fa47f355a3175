package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The WebSocket on a real server with real clients. */
class LiveSocketTest {
    private final FakeStation station = new FakeStation();
    private WebServer server;

    @BeforeEach
    void start() throws Exception {
        server = WebServer.start(
                station,
                new SystemStationClock(),
                new WebOptions(InetAddress.getLoopbackAddress(), 0, null, null),
                "1.2");
    }

    @AfterEach
    void stop() {
        server.close();
    }

    @Test
    void shouldSendEventsAndTraceInOrderAndTakeAcknowledgements() throws Exception {
        WsClient client = WsClient.connect(server.port());
        client.awaitText(1);
        FakeViewer viewer = station.viewers.get(0);
        viewer.messagesLeft.set(3);
        viewer.events.add("{\"type\":\"notice\"}");
        client.awaitBinary(3);
        client.awaitText(2);
        assertEquals(List.of("{\"type\":\"hello\"}", "{\"type\":\"notice\"}"), client.texts());
        assertEquals(
                List.of(1L, 2L, 3L),
                client.binaries().stream().map(b -> b.getLong(0)).toList());
        Waiting.until("three sends ended", () -> viewer.sent.size() == 3);
        client.send("{\"type\":\"painted\",\"sequence\":3}");
        Waiting.until("the acknowledgement", () -> viewer.painted.equals(List.of(3L)));
        client.send("{\"type\":\"hello\"}");
        client.send("not json");
        client.send("{\"type\":\"painted\",\"sequence\":-1}");
        Waiting.until("three messages counted", () -> metric("heldmark_live_ignored_total") == 3);
        assertEquals(List.of(3L), viewer.painted);
        client.close();
        Waiting.until("the viewer left", () -> viewer.left);
    }

    @Test
    void shouldNotSlowAnybodyForAViewerWhoDoesNotRead() throws Exception {
        try (Socket deaf = new Socket(InetAddress.getLoopbackAddress(), server.port())) {
            deaf.getOutputStream()
                    .write(("GET /ws/live HTTP/1.1\r\nHost: localhost:" + server.port()
                                    + "\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n"
                                    + "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n")
                            .getBytes(StandardCharsets.US_ASCII));
            Waiting.until("the deaf viewer joined", () -> station.viewers.size() == 1);
            FakeViewer slow = station.viewers.get(0);
            slow.messageBytes = 60_000;
            slow.messagesLeft.set(1_000_000);
            Waiting.until("its send hangs", () -> {
                long before = slow.messagesLeft.get();
                long flushes = station.flushes.get();
                Waiting.until("thirty flushes", () -> station.flushes.get() >= flushes + 30);
                return before < 1_000_000 && slow.messagesLeft.get() == before;
            });
            WsClient quick = WsClient.connect(server.port());
            quick.awaitText(1);
            station.viewers.get(1).messagesLeft.set(100);
            quick.awaitBinary(100);
            assertTrue(slow.messagesLeft.get() > 900_000);
            quick.close();
        }
    }

    @Test
    void shouldCloseAViewerAndTellItWhy() throws Exception {
        WsClient client = WsClient.connect(server.port());
        client.awaitText(1);
        station.viewers.get(0).closeReason = "events were missed";
        client.awaitClose();
        assertEquals("1013 events were missed", client.closed());
    }

    @Test
    void shouldRefuseAMessageThatIsTooLong() throws Exception {
        WsClient client = WsClient.connect(server.port());
        client.awaitText(1);
        client.send("x".repeat(2000));
        client.awaitClose();
        assertTrue(client.closed().startsWith("1009"), client.closed());
    }

    @Test
    void shouldTurnTheHundredAndFirstViewerAway() throws Exception {
        List<WebSocket> many = new java.util.ArrayList<>();
        HttpClient client = HttpClient.newHttpClient();
        URI address = URI.create("ws://localhost:" + server.port() + "/ws/live");
        for (int i = 0; i < 100; i++) {
            many.add(client.newWebSocketBuilder()
                    .buildAsync(address, new WebSocket.Listener() {})
                    .join());
        }
        Waiting.until("a hundred viewers joined", () -> station.viewers.size() == 100);
        RawHttp.Answer answer = RawHttp.send(
                server.port(),
                "GET /ws/live",
                "Host: localhost:" + server.port() + "\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
                        + "Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n",
                "");
        assertEquals(503, answer.status());
        many.forEach(WebSocket::abort);
    }

    private long metric(String name) throws Exception {
        for (String line : RawHttp.get(server.port(), "/metrics").body().lines().toList()) {
            if (line.startsWith(name + " ")) {
                return Long.parseLong(line.substring(name.length() + 1));
            }
        }
        return -1;
    }
}

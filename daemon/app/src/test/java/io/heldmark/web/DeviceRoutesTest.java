package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.serial.SerialPorts;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import io.javalin.Javalin;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Looking for devices, with invented ones. */
class DeviceRoutesTest {
    private final CountDownLatch looking = new CountDownLatch(1);
    private final CountDownLatch goOn = new CountDownLatch(1);
    private volatile boolean waits;
    private volatile String refusal = "";
    private volatile long lookedForMs = -1;
    private Javalin server;

    private final class Invented implements DeviceRoutes.Finder {
        @Override
        public List<SerialPorts.Port> ports() {
            return List.of(new SerialPorts.Port("/dev/ttyINVENTED", "invented adapter", "", "", true));
        }

        @Override
        public List<CellInRange> cells(long forMs) throws UnavailableException {
            lookedForMs = forMs;
            if (!refusal.isEmpty()) {
                throw new UnavailableException(Kind.REFUSED, refusal);
            }
            looking.countDown();
            try {
                if (waits) {
                    goOn.await();
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
            return List.of(
                    new CellInRange("00:AA:01:01:00:01", "left cuff", -57, true, false),
                    new CellInRange("00:AA:01:01:00:02", "", CellInRange.RSSI_UNKNOWN, false, true));
        }
    }

    @BeforeEach
    void start() {
        server = Javalin.create(config -> {
                    config.startup.showJavalinBanner = false;
                    new DeviceRoutes(new Invented()).register(config.routes);
                    config.routes.exception(ApiException.class, (e, ctx) -> Json.error(ctx, e.status(), e.sentence()));
                })
                .start("127.0.0.1", 0);
    }

    @AfterEach
    void stop() {
        goOn.countDown();
        server.stop();
    }

    private HttpResponse<String> post(String body) throws Exception {
        return HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port() + "/api/v1/devices"))
                                .header("Content-Type", "application/json")
                                .POST(HttpRequest.BodyPublishers.ofString(body))
                                .build(),
                        HttpResponse.BodyHandlers.ofString());
    }

    @Test
    void shouldListPortsAndCellsWithoutWhatIsNotKnown() throws Exception {
        HttpResponse<String> answer = post("{}");
        assertEquals(200, answer.statusCode());
        assertEquals(3000, lookedForMs);
        assertEquals(
                "{\"ports\":[{\"link\":\"serial:/dev/ttyINVENTED\",\"path\":\"/dev/ttyINVENTED\","
                        + "\"description\":\"invented adapter\",\"usable\":true}],"
                        + "\"cells\":[{\"link\":\"ble:00:AA:01:01:00:01\",\"address\":\"00:AA:01:01:00:01\","
                        + "\"name\":\"left cuff\",\"rssiDbm\":-57,\"paired\":true,\"connected\":false},"
                        + "{\"link\":\"ble:00:AA:01:01:00:02\",\"address\":\"00:AA:01:01:00:02\","
                        + "\"paired\":false,\"connected\":true}]}",
                answer.body());
    }

    @Test
    void shouldListPortsAtOnceWhereNoTimeIsGiven() throws Exception {
        assertTrue(post("{\"bleSeconds\":0}").body().endsWith("\"cells\":[]}"));
        assertEquals(-1, lookedForMs);
    }

    @Test
    void shouldSayWhyCellsCannotBeLookedFor() throws Exception {
        refusal = "no Bluetooth adapter";
        assertTrue(
                post("{\"bleSeconds\":1}").body().endsWith("\"cells\":[],\"cellsReason\":\"no Bluetooth adapter\"}"));
    }

    @Test
    void shouldRefuseLongLooks() throws Exception {
        HttpResponse<String> answer = post("{\"bleSeconds\":11}");
        assertEquals(400, answer.statusCode());
        assertEquals("{\"error\":\"bleSeconds is 0 to 10.\"}", answer.body());
    }

    @Test
    void shouldLookOnceAtATime() throws Exception {
        waits = true;
        CompletableFuture<Integer> first = CompletableFuture.supplyAsync(() -> {
            try {
                return post("{}").statusCode();
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        });
        looking.await();
        assertEquals(409, post("{}").statusCode());
        goOn.countDown();
        assertEquals(200, first.get());
        assertEquals(200, post("{}").statusCode());
    }
}

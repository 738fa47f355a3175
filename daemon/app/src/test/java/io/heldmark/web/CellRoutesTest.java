package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.heldmark.cell.CellMonitor;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.util.SplittableRandom;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The report on an invented cell over HTTP. */
class CellRoutesTest {
    private static final ChannelInfo CHANNEL = new ChannelInfo(
            0, "serial:/dev/invented", "cell-1", 0, "left", Limb.LEFT, 1000, 0, 2000, "N", "factory", 0.002, 0.01);

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

    private JsonNode report() throws Exception {
        RawHttp.Answer answer = RawHttp.get(server.port(), "/api/v1/cells/0");
        assertEquals(200, answer.status(), answer.body());
        return JsonMapper.builder().build().readTree(answer.body());
    }

    @Test
    void shouldReportACell() throws Exception {
        CellMonitor monitor = new CellMonitor(CHANNEL);
        SplittableRandom random = new SplittableRandom(6);
        for (int i = 0; i < 2000; i++) {
            monitor.beginMessage((i * 10L + 12) * 1_000_000, (i * 10L + 9) * 1_000_000, false, false, 10);
            for (int k = 0; k < 10; k++) {
                double hum = 40 * Math.sin(2 * Math.PI * 0.05 * (10 * i + k));
                monitor.add((int) Math.round(1000 + 8 * random.nextGaussian() + hum));
            }
        }
        station.cell = monitor.report();
        JsonNode report = report();
        assertEquals("cell-1", report.path("deviceId").asText());
        assertEquals(0.01, report.path("unitPerCount").asDouble());
        assertEquals(20_000, report.at("/range/samples").asInt());
        assertEquals(8000, report.at("/noise/samples").asInt());
        assertEquals(
                Math.hypot(8, 40 / Math.sqrt(2)), report.at("/noise/rmsCounts").asDouble(), 0.5);
        assertEquals(513, report.at("/spectrum/density").size());
        assertEquals(50, report.at("/spectrum/hum/0/mainsHz").asInt());
        assertEquals(40 / Math.sqrt(2), report.at("/spectrum/hum/0/rmsCounts").asDouble(), 1);
        assertEquals(20, report.at("/drift/seconds").asInt());
        assertEquals(20, report.at("/drift/meansCounts").size());
        assertEquals(10, report.at("/arrivals/intervals/p50Ms").asDouble(), 0.1);
        assertEquals(1999, report.at("/arrivals/intervals/bins/0/count").asInt());
        assertEquals("hum", report.at("/advice/0/id").asText());
    }

    @Test
    void shouldLeaveOutWhatIsNotKnownYet() throws Exception {
        station.cell = new CellMonitor(CHANNEL).report();
        JsonNode report = report();
        assertFalse(report.has("noise"));
        assertFalse(report.has("spectrum"));
        assertFalse(report.path("drift").has("countsPerMinute"));
        assertEquals(0, report.path("advice").size());
    }

    @Test
    void shouldSayThatThereIsNoSuchChannel() throws Exception {
        for (String channel : new String[] {"0", "1", "x", "99999"}) {
            RawHttp.Answer answer = RawHttp.get(server.port(), "/api/v1/cells/" + channel);
            assertEquals(404, answer.status());
            assertTrue(answer.body().contains("There is no such channel."));
        }
    }
}

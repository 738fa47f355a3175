package io.heldmark.pipeline;

import static io.heldmark.testing.EncodedCell.describe;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.decode.DecodedFrame;
import io.heldmark.decode.LinkDecoder;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkState;
import io.heldmark.model.Limb;
import io.heldmark.model.LinkHealth;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.Status;
import io.heldmark.testing.EncodedCell;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class LinkHealthDeskTest {
    private static final long MS = 1_000_000L;
    private static final long S = 1_000_000_000L;

    private final EncodedCell cell = new EncodedCell();
    private LinkDecoder decoder;
    private LinkHealthDesk desk;

    LinkHealthDeskTest() {
        open("serial:/dev/ttyUSB0?baud=9600");
    }

    private void open(String address) {
        LinkSetup setup = LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse(address), Limb.LEFT)))
                .get(0);
        decoder = new LinkDecoder(setup.binding(), setup.address().options(), new Ears());
        desk = new LinkHealthDesk(setup, decoder, 1);
    }

    private void up(long atNs) {
        decoder.onUp();
        desk.onLinkState(LinkState.UP, "", atNs);
    }

    private void feed(long atNs, byte[] bytes) {
        decoder.onChunk(atNs, bytes, 0, bytes.length);
    }

    private void assertHealth(String state, String reason, long nowNs) {
        LinkHealth health = desk.report(nowNs, null);
        assertEquals(state, health.state());
        assertEquals(reason, health.reason());
    }

    @Test
    void shouldSayWhatIsLostWhereABoardPrintsNumbers() {
        open("serial:/dev/ttyUSB0?binding=numbers&columns=N&rate=100");
        up(0);
        feed(0, "cut\n".getBytes(StandardCharsets.US_ASCII));
        for (int i = 1; i <= 100; i++) {
            feed(i * (10 * MS), "1.5\n".getBytes(StandardCharsets.US_ASCII));
            desk.onSamples(i * (10 * MS));
        }
        desk.endSecond(S);
        assertHealth("streaming", LinkHealthDesk.PRINTS_NUMBERS, S);
        for (int i = 1; i <= 50; i++) {
            feed(S + i * (20 * MS), "1.5\n".getBytes(StandardCharsets.US_ASCII));
            desk.onSamples(S + i * (20 * MS));
        }
        desk.endSecond(2 * S);
        assertHealth(
                "streaming",
                LinkHealthDesk.PRINTS_NUMBERS + "; about 50 lines a second come, and rate=100 is declared",
                2 * S);
    }

    @Test
    void shouldSayWhereLinesAreNotThoseThatAreDeclared() {
        open("serial:/dev/ttyUSB0?binding=numbers&columns=N,N&rate=100");
        up(0);
        feed(0, "12.5\n".repeat(200).getBytes(StandardCharsets.US_ASCII));
        assertHealth(
                "waiting",
                "bytes arrive that are no lines of the declared columns (columns, delimiter), or the baud rate is another one",
                MS);
    }

    @Test
    void shouldSayWhereALinkStandsInItsOwnWords() {
        assertHealth("connecting", null, 0);
        desk.onLinkState(LinkState.FAULT, "another program has the port open", 0);
        assertHealth("fault", "another program has the port open", 0);
        desk.onLinkState(LinkState.CONNECTING, "", 0);
        assertHealth("connecting", null, 0);
        desk.onLinkState(LinkState.DOWN, "the device was unplugged", 0);
        assertHealth("lost", "the device was unplugged", 0);
    }

    @Test
    void shouldBePatientWithANewConnectionAndThenSayWhatIsMissing() {
        up(5 * S);
        assertHealth("waiting", null, 6 * S);
        assertHealth("waiting", "connected, but the device sends nothing", 7 * S);
        feed(7 * S, new byte[] {0, 0});
        assertHealth("waiting", "bytes arrive, but no description of the device and no samples", 7 * S);
        feed(7 * S, cell.samples());
        assertHealth(
                "waiting",
                "samples arrive, but the device has not described itself, so that they mean nothing yet",
                7 * S);
        feed(7 * S, cell.message(describe("a", 0, 1)));
        assertHealth("waiting", "the device has described itself and sends no samples", 7 * S);
        feed(7 * S, cell.samples());
        assertHealth("streaming", null, 7 * S);
    }

    @Test
    void shouldJudgeEveryConnectionByItsOwnBytes() {
        up(0);
        feed(0, cell.samples());
        desk.onLinkState(LinkState.DOWN, "", 3 * S);
        up(10 * S);
        assertHealth("waiting", "connected, but the device sends nothing", 13 * S);
    }

    @Test
    void shouldCallAStreamLostThatStops() {
        up(0);
        feed(0, cell.message(describe("a", 0, 1)));
        feed(100 * MS, cell.samples());
        assertHealth("streaming", null, 1100 * MS);
        assertTrue(desk.streaming());
        assertHealth("lost", "connected, but no samples arrive any more", 1101 * MS);
        assertFalse(desk.streaming());
        feed(2 * S, cell.samples());
        assertHealth("streaming", null, 2 * S);
    }

    @Test
    void shouldNameTheBaudRateWhereBytesMakeNoSense() {
        byte[] noise = new byte[2000];
        new SplittableRandom(4).nextBytes(noise);
        up(0);
        feed(0, noise);
        assertHealth(
                "waiting",
                "bytes arrive that make no sense: the baud rate is probably wrong (now 9600; set it with ?baud=...)",
                1);
        open("serial:/dev/ttyUSB0");
        up(0);
        feed(0, noise);
        String reason = desk.report(1, null).reason();
        assertNotNull(reason);
        assertTrue(reason.contains("now the default"), reason);
    }

    @Test
    void shouldNotBlameTheBaudRateOfALinkThatHasNone() {
        byte[] text = "reading 12.5 newtons\r\n".repeat(60).getBytes(java.nio.charset.StandardCharsets.US_ASCII);
        open("tcp:cell:9000");
        up(0);
        feed(0, text);
        assertHealth("waiting", "bytes arrive that are not Gaugeline", 1);
        open("tcp:cell:9000?binding=bytes");
        up(0);
        feed(0, text);
        assertHealth(
                "waiting",
                "bytes arrive that are not Gaugeline in the binding that was asked for; try binding=auto",
                1);
        open("serial:/dev/ttyUSB0?binding=text");
        up(0);
        feed(0, new byte[600]);
        String reason = desk.report(1, null).reason();
        assertNotNull(reason);
        assertTrue(reason.endsWith("try binding=auto, or another baud rate"), reason);
    }

    @Test
    void shouldTellAChangeOnce() {
        desk.report(0, null);
        up(0);
        assertTrue(desk.changed(0));
        desk.report(0, null);
        assertFalse(desk.changed(1 * S));
        assertTrue(desk.changed(2 * S), "the reason changes where the patience is over");
        desk.report(2 * S, null);
        feed(2 * S, cell.message(describe("a", 0, 1)));
        feed(2 * S, cell.samples());
        assertTrue(desk.changed(2 * S));
        desk.report(2 * S, null);
        feed(2 * S, cell.samples());
        assertFalse(desk.changed(2 * S));
    }

    @Test
    void shouldCountReconnectsButNotTheFirstConnection() {
        up(0);
        assertEquals(0, desk.report(0, null).reconnects());
        desk.onLinkState(LinkState.DOWN, "", 1);
        desk.onLinkState(LinkState.CONNECTING, "", 2);
        up(3);
        assertEquals(1, desk.report(3, null).reconnects());
        desk.onLinkState(LinkState.UP, "", 4);
        assertEquals(1, desk.report(4, null).reconnects(), "it was up already");
    }

    @Test
    void shouldMeasureTheRateOverWholeSeconds() {
        up(0);
        feed(0, cell.message(describe("a", 0, 1)));
        desk.endSecond(1 * S);
        for (int i = 0; i < 49; i++) {
            feed(S + i * 20L * MS, cell.samples());
        }
        desk.endSecond(2 * S);
        LinkHealth health = desk.report(2 * S, null);
        assertEquals(490, health.sampleRateHz(), 1e-9);
        assertEquals(1000, health.nominalRateHz());
        assertEquals(490, health.samples());
        desk.endSecond(3 * S);
        assertEquals(0, desk.report(3 * S, null).sampleRateHz());
    }

    @Test
    void shouldReportWhatTheDeviceSaysOfItself() {
        up(0);
        assertEquals(-1, desk.report(0, null).batteryPercent());
        assertTrue(Double.isNaN(desk.report(0, null).temperatureC()));
        feed(0, cell.statusMessage(63, 31.5));
        assertEquals(63, desk.report(0, null).batteryPercent());
        assertEquals(31.5, desk.report(0, null).temperatureC());
    }

    @Test
    void shouldReportTotalsOfTheDecoderAndNoTimesBeforeThereAreSamples() {
        up(0);
        feed(0, cell.message(describe("a", 0, 1)));
        byte[] damaged = cell.samples();
        damaged[damaged.length / 2] ^= 1;
        feed(0, cell.samples());
        feed(0, damaged);
        cell.lose(2);
        byte[] twice = cell.samples();
        feed(0, twice);
        feed(0, twice);
        LinkHealth health = desk.report(0, null);
        assertEquals(1, health.crcFailures());
        assertEquals(damaged.length, health.skippedBytes());
        assertEquals(1, health.duplicates());
        assertTrue(Double.isNaN(health.timeStandardUncertaintyNs()));
        SampleClock clock = new SampleClock(1_000_000);
        assertTrue(Double.isNaN(desk.report(0, clock).arrivalJitterNs()), "no frame was placed yet");
        assertNull(desk.report(0, clock).reason());
    }

    /** What a link path does with a decoder, as far as the desk hears of it. */
    private final class Ears implements LinkDecoder.Listener {
        @Override
        public void onFrame(DecodedFrame frame) {
            desk.onSamples(frame.arrivalNs);
        }

        @Override
        public void onDescribe(Describe describe, long atNs) {}

        @Override
        public void onStatus(Status status, long atNs) {
            desk.onStatus(status);
        }

        @Override
        public void onReply(Reply reply, long atNs) {}

        @Override
        public void onPong(int pingId, long receivedTick, long transmittedTick, long arrivalNs) {}
    }
}

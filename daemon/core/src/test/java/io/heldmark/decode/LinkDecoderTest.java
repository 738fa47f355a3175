package io.heldmark.decode;

import static io.heldmark.testing.EncodedCell.describe;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.TextEncoder;
import io.heldmark.testing.EncodedCell;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class LinkDecoderTest {
    private static final long MS = 1_000_000L;
    private static final int TAKES_COMMANDS = Describe.CAN_COMMAND | Describe.CAN_PING;

    private final Heard heard = new Heard();
    private final EncodedCell cell = new EncodedCell();
    private LinkDecoder decoder = new LinkDecoder(Binding.BYTES, heard);
    private long nowNs;

    private void feed(byte[] bytes) {
        nowNs += 10 * MS;
        decoder.onChunk(nowNs, bytes, 0, bytes.length);
    }

    private void begin(Describe describe) {
        decoder.onUp();
        feed(cell.message(describe));
    }

    @Test
    void shouldPlaceEveryMessageOfASteadyStream() {
        begin(describe("a", 0, 1));
        for (int i = 0; i < 50; i++) {
            feed(cell.samples());
            assertEquals(new Heard.Placed(i * 10_000L, i * 10L, 0, 10, 1, 0, false), heard.newest());
            assertEquals(nowNs, heard.arrivalNs);
            assertEquals(i * 10, heard.counts[0]);
        }
        assertEquals(500, decoder.samples());
        assertEquals(0, decoder.lostSamples());
        assertEquals(0, decoder.counters().skippedBytes);
    }

    @Test
    void shouldFindMessagesWhereverReadsCutThem() {
        byte[] whole = Heard.joined(cell.message(describe("a", 0, 1)), cell.samples(), cell.samples(), cell.samples());
        SplittableRandom random = new SplittableRandom(5);
        decoder.onUp();
        for (int at = 0; at < whole.length; ) {
            int n = Math.min(whole.length - at, random.nextInt(1, 7));
            nowNs += MS;
            decoder.onChunk(nowNs, whole, at, n);
            at += n;
        }
        assertEquals(3, heard.frames.size());
        assertEquals(nowNs, heard.arrivalNs, "a message arrives with its last byte");
    }

    @Test
    void shouldCountSamplesThatComeBeforeTheDescription() {
        decoder.onUp();
        feed(cell.samples());
        feed(cell.samples());
        assertEquals(List.of(), heard.frames);
        assertEquals(20, decoder.samplesBeforeDescribe());
        assertEquals(20, decoder.samplesSinceUpWithoutDescribe());
        assertTrue(decoder.awaitsDescribe());

        feed(cell.message(describe("a", 0, 1)));
        feed(cell.samples());
        assertEquals(0, heard.newest().missing(), "what came before the description is not missing");
        assertFalse(decoder.awaitsDescribe());
        assertEquals(20, decoder.samplesBeforeDescribe());
    }

    @Test
    void shouldCountLostMessagesAcrossTheWrapOfTheSequence() {
        cell.sequence = 65_530;
        begin(describe("a", 0, 1));
        feed(cell.samples());
        for (int i = 0; i < 10; i++) {
            cell.lose(2);
            feed(cell.samples());
            assertEquals(20, heard.newest().missing());
        }
        assertEquals(200, decoder.lostSamples());
        assertEquals(20, decoder.counters().missingFrames);
        assertEquals(300, heard.newest().firstIndex());
    }

    @Test
    void shouldDropMessagesThatComeTwiceOrLate() {
        begin(describe("a", 0, 1));
        byte[] first = cell.samples();
        byte[] second = cell.samples();
        byte[] third = cell.samples();
        for (byte[] message : List.of(first, third, third, second, first)) {
            feed(message);
        }
        assertEquals(2, heard.frames.size());
        assertEquals(10, heard.newest().missing(), "the late one counts as lost");
        assertEquals(1, decoder.counters().duplicates);
        assertEquals(2, decoder.counters().reordered);
        feed(cell.samples());
        assertEquals(0, heard.newest().missing());
    }

    @Test
    void shouldTellADeviceThatWasPoweredUpAgain() {
        cell.sequence = 500;
        cell.tick = 40_000_000;
        begin(describe("a", 0, 1));
        feed(cell.samples());
        feed(cell.samples());
        cell.sequence = 0;
        cell.tick = 3_000;
        feed(cell.message(describe("a", 0, 1)));
        feed(cell.samples());
        assertTrue(heard.newest().restarted());
        assertEquals(-1, heard.newest().missing());
        assertEquals(3_000, heard.newest().firstTick());
        assertEquals(1, decoder.counters().restarts);
        assertEquals(1, heard.describes.size(), "the same description is told once");
        feed(cell.samples());
        assertFalse(heard.newest().restarted());
        assertEquals(0, decoder.lostSamples(), "a number that is not known is not counted");
    }

    @Test
    void shouldHandOnStatusBitsAndCountWhatTheDeviceLost() {
        begin(describe("a", 0, 1));
        cell.status = SamplesView.STATUS_OVERLOAD;
        feed(cell.samples());
        assertEquals(SamplesView.STATUS_OVERLOAD, heard.newest().status());
        cell.status = SamplesView.STATUS_DEVICE_LOSS | SamplesView.STATUS_ADC_FAULT;
        cell.tick += 400_000; // 0.4 s in one step: without the bit that would be a stepped clock
        feed(cell.samples());
        assertEquals(400, heard.newest().missing());
        assertFalse(heard.newest().restarted());
        assertEquals(
                SamplesView.STATUS_DEVICE_LOSS | SamplesView.STATUS_ADC_FAULT,
                heard.newest().status());
    }

    @Test
    void shouldReadCountsOfBothWidthsAndOfSeveralChannels() {
        begin(describe("a", 0, 4));
        cell.mask = 0b1010;
        cell.samplesAMessage = 2;
        feed(cell.samples(-8_388_608, 8_388_607, -1, 0));
        assertArrayEquals(new int[] {-8_388_608, 8_388_607, -1, 0}, heard.counts);
        cell.bytesPerCount = 4;
        feed(cell.samples(Integer.MIN_VALUE, Integer.MAX_VALUE, 8_388_608, -8_388_609));
        assertArrayEquals(new int[] {Integer.MIN_VALUE, Integer.MAX_VALUE, 8_388_608, -8_388_609}, heard.counts);
        assertEquals(0b1010, heard.newest().mask());
    }

    @Test
    void shouldHandOnChannelsThatTheDescriptionDoesNotName() {
        begin(describe("a", 0, 1));
        cell.mask = 0b11;
        feed(cell.samples());
        assertEquals(0b11, heard.newest().mask(), "whoever knows the channels decides");
        assertEquals(20, heard.counts.length);
    }

    @Test
    void shouldGoOnWhereTheDescriptionGrows() {
        begin(describe("a", TAKES_COMMANDS, 1));
        feed(cell.samples());
        Describe more = describe("a", TAKES_COMMANDS, 2);
        feed(cell.message(more)); // a second channel within the stream
        feed(cell.samples());
        assertEquals(List.of(describe("a", TAKES_COMMANDS, 1), more), heard.describes);
        assertEquals(new Heard.Placed(10_000, 10, 0, 10, 1, 0, false), heard.newest());
    }

    @Test
    void shouldAwaitANewDescriptionAfterAReconnectFromDevicesThatCanBeAsked() {
        begin(describe("a", TAKES_COMMANDS, 1));
        feed(cell.samples());
        decoder.onUp();
        assertTrue(decoder.awaitsDescribe());
        feed(cell.samples());
        assertEquals(1, heard.frames.size());
        assertEquals(10, decoder.samplesSinceUpWithoutDescribe());
        feed(cell.message(describe("a", TAKES_COMMANDS, 1)));
        feed(cell.samples());
        assertEquals(10, heard.newest().missing(), "what was dropped meanwhile is missing");
        assertEquals(1, heard.describes.size());
    }

    @Test
    void shouldKeepTheDescriptionAcrossAReconnectOfDevicesThatCannotBeAsked() {
        begin(describe("a", 0, 1));
        feed(cell.samples());
        decoder.onUp();
        feed(cell.samples());
        assertEquals(2, heard.frames.size());
        assertEquals(0, decoder.samplesBeforeDescribe());
    }

    /** Another cell on the same line has ticks of its own, even where it declares the same rates. */
    @Test
    void shouldRestartTheClockWhereAnotherDeviceAnswersAfterAReconnect() {
        begin(describe("a", TAKES_COMMANDS, 1));
        feed(cell.samples());
        decoder.onUp();
        cell.tick = 77_000_000;
        cell.sequence = 9;
        feed(cell.message(describe("b", TAKES_COMMANDS, 1)));
        feed(cell.samples());
        assertTrue(heard.newest().restarted());
        assertEquals(-1, heard.newest().missing());
        assertEquals(77_000_000, heard.newest().firstTick());
    }

    /** The rate was set: the same counter runs on, and after a wrap of it the ticks must not begin anew. */
    @Test
    void shouldGoOnWithTheTicksWhereOnlyTheRateChanges() {
        cell.tick = (1L << 32) - 5_000;
        begin(describe("a", TAKES_COMMANDS, 1));
        feed(cell.samples());
        feed(cell.samples());
        long before = heard.newest().firstTick();
        assertEquals((1L << 32) + 5_000, before);
        feed(cell.message(describe("a", TAKES_COMMANDS, 1, 500, EncodedCell.TICK_RATE_HZ)));
        feed(cell.samples());
        assertEquals(before + 10_000, heard.newest().firstTick());
        assertFalse(heard.newest().restarted());
        assertEquals(2000, heard.ticksPerSample, 1e-9);
    }

    @Test
    void shouldGiveUpWhatIsHalfReceivedWhereBytesWereLost() {
        begin(describe("a", 0, 1));
        feed(cell.samples());
        byte[] cut = cell.samples();
        decoder.onChunk(nowNs, cut, 0, cut.length / 2);
        decoder.onBytesLost();
        cell.lose(70);
        nowNs += 700 * MS;
        feed(cell.samples());
        assertEquals(710, heard.newest().missing());
        assertFalse(heard.newest().restarted());
        assertEquals(0, decoder.counters().crcFailures, "the half was given up and not joined to another half");
        assertEquals(cut.length / 2, decoder.counters().skippedBytes);
    }

    @Test
    void shouldUnwrapPongsBesideTheSamples() {
        cell.tick = (1L << 32) - 15_000;
        begin(describe("a", TAKES_COMMANDS, 1));
        feed(cell.samples());
        feed(cell.pong(9, (1L << 32) - 100, (1L << 32) + 200));
        assertEquals(List.of("9 4294967196 4294967496 " + nowNs), heard.pongs);
        decoder.onUp();
        feed(cell.pong(10, 5, 6));
        assertEquals(1, heard.pongs.size(), "ticks of a device that is not known mean nothing");
    }

    @Test
    void shouldHandOnStatusAndReplies() {
        begin(describe("a", TAKES_COMMANDS, 1));
        feed(cell.statusMessage(80, 21.5));
        feed(cell.reply(2, Reply.NOT_NOW));
        assertEquals(80, heard.statuses.get(0).batteryPercent().orElseThrow());
        assertEquals(Reply.NOT_NOW, heard.replies.get(0).result());
    }

    @Test
    void shouldFindTheBindingAndForgetItWithTheConnection() {
        decoder = new LinkDecoder(Binding.AUTO, heard);
        EncodedCell text = new EncodedCell(new TextEncoder(), 1000);
        text.samplesAMessage = 1;
        decoder.onUp();
        assertEquals(Binding.AUTO, decoder.binding());
        feed(text.message(describe("a", 0, 1)));
        feed(text.samples());
        assertEquals(Binding.TEXT, decoder.binding());
        assertEquals(1, heard.newest().count());
        decoder.onUp();
        feed(cell.samples());
        assertEquals(Binding.BYTES, decoder.binding());
        assertEquals(10, heard.newest().count());
    }

    @Test
    void shouldReadValuesOfTheRadioBinding() {
        EncodedCell radio = new EncodedCell(new GattEncoder(), 1000);
        decoder = new LinkDecoder(Binding.GATT, heard);
        decoder.onUp();
        feed(radio.message(describe("a", 0, 1)));
        feed(radio.samples());
        assertEquals(10, heard.newest().count());
        assertEquals(Binding.GATT, decoder.binding());
    }

    @Test
    void shouldSayThatALinkIsUnreadableUntilAMessageComes() {
        decoder.onUp();
        byte[] noise = new byte[LinkDecoder.UNREADABLE_BYTES - 1];
        new SplittableRandom(3).nextBytes(noise);
        feed(noise);
        assertFalse(decoder.looksUnreadable());
        feed(new byte[] {1, 2, 3});
        assertTrue(decoder.looksUnreadable());
        feed(new byte[] {0});
        feed(cell.message(describe("a", 0, 1)));
        assertFalse(decoder.looksUnreadable());
        decoder.onUp();
        assertFalse(decoder.looksUnreadable(), "a new connection begins anew");
        feed("an earlier connection's messages do not count\n".repeat(12).getBytes(StandardCharsets.US_ASCII));
        assertTrue(decoder.looksUnreadable());
    }

    @Test
    void shouldThrowForNoBytesAtAll() {
        SplittableRandom random = new SplittableRandom(17);
        for (Binding binding : Binding.values()) {
            decoder = new LinkDecoder(binding, Map.of("rate", "100"), heard);
            decoder.onUp();
            byte[] good = Heard.joined(cell.message(describe("a", 0, 8)), cell.samples());
            for (int i = 0; i < 2000; i++) {
                byte[] bytes = i % 3 == 0 ? good.clone() : new byte[random.nextInt(1, 300)];
                if (i % 3 != 0) {
                    random.nextBytes(bytes);
                } else {
                    bytes[random.nextInt(bytes.length)] ^= (byte) (1 << random.nextInt(8));
                }
                feed(bytes);
            }
            assertTrue(decoder.counters().bytes > 100_000, "all of it was looked at");
        }
    }
}

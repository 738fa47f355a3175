package io.heldmark.decode;

import static io.heldmark.testing.EncodedCell.describe;
import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.testing.EncodedCell;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** The order of notifications; expected orders follow by hand from the specification's section "Sequence". */
class ReorderWindowTest {
    private static final long MS = 1_000_000L;

    private final List<Integer> order = new ArrayList<>();
    private final List<Long> arrivals = new ArrayList<>();
    private final ReorderWindow window = new ReorderWindow((atNs, bytes, offset, length) -> {
        order.add((bytes[offset + 1] & 0xFF) | (bytes[offset + 2] & 0xFF) << 8);
        arrivals.add(atNs / MS);
    });
    private long nowMs;

    private void send(int... sequences) {
        for (int sequence : sequences) {
            byte[] value = {99, 0x58, (byte) sequence, (byte) (sequence >> 8), 1, 2, 3};
            window.accept(++nowMs * MS, value, 1, value.length - 1);
        }
    }

    private void expect(Integer... sequences) {
        assertEquals(List.of(sequences), order);
    }

    @Test
    void shouldHandOnWhatIsInOrderAtOnce() {
        send(65534, 65535, 0, 1);
        expect(65534, 65535, 0, 1);
        assertEquals(List.of(1L, 2L, 3L, 4L), arrivals);
        assertEquals(0, window.putBack());
    }

    @Test
    void shouldPutALateOneIntoItsPlace() {
        send(7, 9);
        expect(7);
        send(8, 10);
        expect(7, 8, 9, 10);
        assertEquals(List.of(1L, 3L, 3L, 4L), arrivals, "arrivals never go back");
        assertEquals(1, window.putBack());
    }

    @Test
    void shouldPutSeveralIntoTheirPlacesAcrossTheWrap() {
        send(65533, 0, 65535, 1, 65534);
        expect(65533, 65534, 65535, 0, 1);
        assertEquals(2, window.putBack());
    }

    @Test
    void shouldHoldFourAndGiveUpOnTheMissingOneWithTheFifth() {
        send(1, 3, 4, 5, 6);
        expect(1);
        send(7);
        expect(1, 3, 4, 5, 6, 7);
        send(2);
        expect(1, 3, 4, 5, 6, 7, 2);
        assertEquals(0, window.putBack());
    }

    @Test
    void shouldWaitNoLongerThanFiftyMilliseconds() {
        send(1, 3);
        window.onClock((nowMs + 49) * MS);
        expect(1);
        window.onClock((nowMs + 50) * MS);
        expect(1, 3);
        assertEquals(List.of(1L, 2L), arrivals, "each keeps its own arrival");
    }

    @Test
    void shouldLetDuplicatesFollowTheirFirst() {
        send(1, 3, 3, 2, 4, 4);
        expect(1, 2, 3, 3, 4, 4);
    }

    @Test
    void shouldPassJumpsAndRestartsAsTheyCome() {
        send(1, 3, 10, 11);
        expect(1, 3, 10, 11);
        send(500, 501, 0, 2, 1);
        expect(1, 3, 10, 11, 500, 501, 0, 1, 2);
    }

    @Test
    void shouldLetEverythingGoBeforeADescription() {
        send(5, 7);
        byte[] described = {0x57, 1, 2, 3};
        window.accept(++nowMs * MS, described, 0, described.length);
        assertEquals(3, order.size());
        expect(5, 7, 0x0201);
        send(0, 1);
        expect(5, 7, 0x0201, 0, 1);
    }

    @Test
    void shouldForgetWhatIsDropped() {
        send(5, 7);
        window.drop();
        send(8, 9);
        expect(5, 8, 9);
    }

    /** Whatever order, everything handed in comes out once, and a stream shuffled within the window comes out sorted. */
    @Test
    void shouldSortWhatIsShuffledWithinTheWindow() {
        SplittableRandom random = new SplittableRandom(11);
        List<Integer> expected = new ArrayList<>();
        send(65_000);
        expected.add(65_000);
        for (int block = 0; block < 400; block++) {
            List<Integer> four = new ArrayList<>();
            for (int i = 1; i <= 4; i++) {
                four.add((65_000 + 4 * block + i) & 0xFFFF);
            }
            expected.addAll(four);
            while (!four.isEmpty()) {
                send(four.remove(random.nextInt(four.size())));
            }
        }
        assertEquals(expected, order);
    }

    @Test
    void shouldKeepEverythingWhateverComes() {
        SplittableRandom random = new SplittableRandom(12);
        int sent = 0;
        for (int i = 0; i < 20_000; i++) {
            send(random.nextInt(10) == 0 ? random.nextInt(1 << 16) : (i + random.nextInt(-6, 7)) & 0xFFFF);
            sent++;
            if (random.nextInt(50) == 0) {
                nowMs += 60;
            }
        }
        window.flush();
        assertEquals(sent, order.size());
    }

    @Test
    void shouldLoseNothingOfALinkWhoseNotificationsChangePlaces() {
        Heard heard = new Heard();
        EncodedCell cell = new EncodedCell(new GattEncoder(), 1000);
        LinkDecoder decoder = new LinkDecoder(Binding.GATT, heard);
        SplittableRandom random = new SplittableRandom(13);
        decoder.onUp();
        List<byte[]> values = new ArrayList<>();
        values.add(cell.message(describe("a", 0, 1)));
        for (int i = 0; i < 300; i++) {
            values.add(cell.samples());
        }
        for (int i = 2; i + 1 < values.size(); i += random.nextInt(2, 6)) {
            values.add(i + 1, values.remove(i));
        }
        long atNs = 0;
        for (byte[] value : values) {
            atNs += 10 * MS;
            decoder.onChunk(atNs, value, 0, value.length);
        }
        decoder.onClock(atNs + 60 * MS);
        assertEquals(3000, decoder.samples());
        assertEquals(0, decoder.lostSamples());
        assertEquals(0, decoder.counters().reordered);
        assertEquals(0, decoder.counters().missingFrames);
    }
}

package io.heldmark.decode;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import io.heldmark.link.LinkAddress;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.SamplesView;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NumberDecoderTest {
    private static final long MS = 1_000_000L;

    private final List<int[]> samples = new ArrayList<>();
    private final List<Long> ticks = new ArrayList<>();
    private final List<Describe> describes = new ArrayList<>();
    private NumberDecoder decoder = open("columns=N&rate=100");

    private NumberDecoder open(String options) {
        NumberLayout layout = layout(options);
        return new NumberDecoder(layout, new MessageHandler() {
            @Override
            public void onSamples(SamplesView view) {
                samples.add(Arrays.copyOf(view.counts(), view.channelCount()));
                ticks.add(view.tick());
            }

            @Override
            public void onDescribe(Describe describe) {
                describes.add(describe);
            }
        });
    }

    private static NumberLayout layout(String options) {
        return NumberLayout.of(LinkAddress.parse("serial:/dev/x?" + options).options());
    }

    private void feed(long atNs, String text) {
        byte[] bytes = text.getBytes(StandardCharsets.ISO_8859_1);
        decoder.arrivedAt(atNs);
        decoder.accept(bytes, 0, bytes.length);
        DecoderCounters c = decoder.counters();
        assertTrue(c.bytes >= c.messageBytes + c.skippedBytes + c.idleBytes, "no byte is counted twice");
    }

    @Test
    void shouldTakeTheFirstWholeLineOnAndItsDecimals() {
        feed(0, "3.45\r\n12.30\r\n-0.07\r\n\r\n8\r\n");
        assertEquals(3, samples.size());
        assertArrayEquals(new int[] {1230}, samples.get(0));
        assertArrayEquals(new int[] {-7}, samples.get(1));
        assertArrayEquals(new int[] {800}, samples.get(2));
        Describe describe = describes.get(0);
        assertEquals(1, describes.size());
        assertEquals(0, describe.capabilities(), "nothing may be sent to it");
        assertEquals(100, describe.sampleRateHz());
        assertEquals(
                0.01f, describe.channels().get(0).calibration().orElseThrow().newtonPerCount());
        assertTrue(Float.isNaN(
                describe.channels().get(0).calibration().orElseThrow().relativeStandardUncertainty()));
        DecoderCounters c = decoder.counters();
        assertEquals(6, c.skippedBytes, "the first line may be cut");
        assertEquals(2, c.idleBytes);
        assertEquals(c.bytes, c.messageBytes + c.skippedBytes + c.idleBytes);
    }

    /** Values of one unit in newtons by NIST SP 811 (2008), appendix B: kilogram-force 9.80665, pound-force 4.448222. */
    @ParameterizedTest
    @CsvSource({"N,1", "kN,1000", "kg,9.80665", "g,0.00980665", "lbf,4.4482216152605"})
    void shouldKnowTheUnits(String unit, double newton) {
        decoder = open("columns=" + unit + "&rate=80");
        feed(0, "\n2.500\n");
        float slope =
                describes.get(0).channels().get(0).calibration().orElseThrow().newtonPerCount();
        assertEquals(2.5 * newton, samples.get(0)[0] * (double) slope, 2.5 * newton * 1e-7);
    }

    @Test
    void shouldReadColumnsByTheirPlaceAndSkipOthers() {
        decoder = open("columns=-,left:kg,-,right:kg&delimiter=space&rate=10");
        feed(0, "\nForce:  1.5  kg   2.25\n  t= 3 kg 4 \nForce: 1.5 kg\nForce: 1.5 kg 2 9\nForce: x kg 2\n");
        assertEquals(2, samples.size());
        assertArrayEquals(new int[] {150, 225}, samples.get(0));
        assertArrayEquals(new int[] {300, 400}, samples.get(1));
        assertEquals(3, decoder.counters().malformed);
        assertEquals("left", describes.get(0).channels().get(0).name());
        assertEquals("right", describes.get(0).channels().get(1).name());
    }

    @Test
    void shouldTakeCountsWithoutAScaleAndOtherDelimiters() {
        decoder = open("columns=-,counts&delimiter=semicolon&rate=80");
        feed(0, "\n1.25;8388607;\n;-5\n7;99999999999\n7;1e5\n7;1.2.3\n7;\n");
        assertEquals(2, samples.size());
        assertArrayEquals(new int[] {8388607}, samples.get(0));
        assertArrayEquals(new int[] {-5}, samples.get(1));
        assertTrue(describes.get(0).channels().get(0).calibration().isEmpty());
        decoder = open("columns=counts,counts&delimiter=tab&rate=80");
        feed(0, "\n4\t5\t\n");
        assertArrayEquals(new int[] {4, 5}, samples.get(2));
    }

    @Test
    void shouldSkipWhatIsTooLongAndGoOn() {
        feed(0, "\n" + "1".repeat(500) + "\n7\n");
        assertEquals(1, samples.size());
        assertEquals(1, decoder.counters().oversized);
        assertEquals(decoder.counters().bytes, decoder.counters().messageBytes + decoder.counters().skippedBytes);
    }

    @Test
    void shouldNeverThrowAndAccountForEveryByte() {
        SplittableRandom random = new SplittableRandom(3);
        String some = "0123456789.-+, \n\r\tx\u00ff";
        for (int i = 0; i < 2000; i++) {
            StringBuilder text = new StringBuilder();
            for (int n = random.nextInt(40); n > 0; n--) {
                text.append(some.charAt(random.nextInt(some.length())));
            }
            feed(i * MS, text.toString());
            if (random.nextInt(50) == 0) {
                decoder.reset();
            }
        }
        decoder.reset();
        DecoderCounters c = decoder.counters();
        assertEquals(c.bytes, c.messageBytes + c.skippedBytes + c.idleBytes);
        assertFalse(samples.isEmpty());
    }

    @Test
    void shouldSpreadLinesOfOneReadAndFollowTheArrivals() {
        decoder.reset();
        feed(0, "\n");
        for (int i = 1; i <= 100; i++) {
            feed(40L * i * MS, "1\n2\n3\n4\n"); // an adapter that hands over every 40 ms
        }
        for (int i = 100; i < ticks.size(); i++) {
            assertEquals(10_000.0, (double) (ticks.get(i) - ticks.get(i - 1)), 500);
        }
        assertEquals(4_000_000.0, (double) ticks.get(ticks.size() - 1), 1000);
    }

    @ParameterizedTest
    @CsvSource({
        "'columns=N','rate= is not allowed: lines a second, a number from 1 to 10000; the board cannot say it itself'",
        "'rate=0','rate=0 is not allowed: lines a second, a number from 1 to 10000; the board cannot say it itself'",
        "'rate=80&delimiter=pipe','delimiter=pipe is not allowed: comma, semicolon, tab or space'",
        "'rate=80&columns=-','columns=- is not allowed: 1 to 8 columns of numbers, 16 in all'",
        "'rate=80&columns=N,dyn','columns=N,dyn is not allowed: parted by commas: UNIT or NAME:UNIT, where UNIT is counts, N,"
                + " kN, kg, g or lbf; - for a column to skip'",
        "'rate=80&columns=1:N','columns=1:N is not allowed: parted by commas: UNIT or NAME:UNIT, where UNIT is counts, N, kN,"
                + " kg, g or lbf; - for a column to skip'"
    })
    void shouldRefuseALayoutThatIsNone(String options, String words) {
        assertEquals(
                words,
                assertThrows(ConfigException.class, () -> layout(options)).getMessage());
    }
}

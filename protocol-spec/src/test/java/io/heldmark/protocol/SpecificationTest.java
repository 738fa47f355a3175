package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** Figures and examples of the specification, computed anew, so that they cannot go stale. */
class SpecificationTest {
    private final List<String> lines = read();

    private static List<String> read() {
        try {
            return Files.readAllLines(Path.of(System.getProperty("heldmark.root"), "protocol-spec", "gaugeline-v1.md"));
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    @Test
    void shouldListTheMessageTypesOfTheCodec() {
        Map<String, Integer> types = new TreeMap<>();
        for (List<String> row : tableAfter("Type bytes (byte stream")) {
            types.put(row.get(1), Integer.decode(row.get(0)));
        }
        Map<String, Integer> codec = Map.of(
                "describe", Wire.DESCRIBE,
                "samples", Wire.SAMPLES,
                "status", Wire.STATUS,
                "reply", Wire.REPLY,
                "pong", Wire.PONG,
                "command", Wire.COMMAND,
                "ping", Wire.PING);
        assertEquals(new TreeMap<>(codec), types);
    }

    @Test
    void shouldStateTheRatesThatBaudRatesAllow() {
        int[][] columns = {{1, 1}, {1, 10}, {2, 10}, {8, 20}};
        for (List<String> row : tableAfter("<!-- table: baud -->")) {
            int baud = Integer.parseInt(row.get(0));
            for (int i = 0; i < columns.length; i++) {
                int wire = longestFrame(columns[i][0], columns[i][1]);
                assertEquals(
                        baud * (long) columns[i][1] / (10L * wire), Long.parseLong(row.get(1 + i)), row.toString());
            }
            for (int channels = 1; channels <= 2; channels++) {
                long rate = baud / (10L * longestLine(channels));
                assertEquals(rate, Long.parseLong(row.get(4 + channels)), row.toString());
            }
        }
    }

    @Test
    void shouldStateTheSamplesThatAnMtuHolds() {
        for (List<String> row : tableAfter("<!-- table: mtu -->")) {
            int mtu = Integer.parseInt(row.get(0));
            int column = 1;
            for (int width = 3; width <= 4; width++) {
                for (int channels : new int[] {1, 2, 8}) {
                    assertEquals(
                            samplesPerValue(mtu, channels, width), Integer.parseInt(row.get(column++)), row.toString());
                }
            }
        }
    }

    @Test
    void shouldStateTheRatesThatConnectionIntervalsAllow() {
        for (List<String> row : tableAfter("<!-- table: interval -->")) {
            int mtu = Integer.parseInt(row.get(0));
            int column = 1;
            for (int channels = 1; channels <= 2; channels++) {
                for (double intervalMs : new double[] {7.5, 15, 30}) {
                    long rate = (long) Math.floor(samplesPerValue(mtu, channels, 3) * 1000 / intervalMs);
                    assertEquals(rate, Long.parseLong(row.get(column++)), row.toString());
                }
            }
        }
    }

    @Test
    void shouldShowExamplesThatDecode() {
        byte[] frame =
                HexFormat.of().parseHex(after("<!-- wire: bytes -->").get(0).replace(" ", ""));
        Transcript fromBytes = new Transcript();
        new ByteStreamDecoder(fromBytes).accept(frame, 0, frame.length);
        assertEquals(List.of("samples 7 1000 0 1 2: 5 -2"), fromBytes.lines);

        List<String> example =
                after("<!-- wire: text -->").stream().map(String::strip).toList();
        byte[] text = (String.join("\n", example) + "\n").getBytes(StandardCharsets.US_ASCII);
        Transcript fromText = new Transcript();
        new TextDecoder(fromText).accept(text, 0, text.length);
        assertEquals(List.of("samples 7 1000 0 1 1: 5", "samples 8 2000 0 1 1: -2"), fromText.lines);
    }

    @Test
    void shouldHaveALinkTargetForEveryEntryOfItsContents() {
        List<String> anchors = lines.stream()
                .filter(l -> l.startsWith("#"))
                .map(l -> l.replaceFirst("^#+ ", "").toLowerCase(java.util.Locale.ROOT))
                .map(l -> l.replaceAll("[^a-z0-9 -]", "").replace(' ', '-'))
                .toList();
        int found = 0;
        for (String line : lines) {
            for (String part : line.split("\\(#", -1)) {
                String anchor = part.contains(")") ? part.substring(0, part.indexOf(')')) : "";
                if (line.contains("(#" + anchor + ")")) {
                    assertTrue(anchors.contains(anchor), anchor);
                    found++;
                }
            }
        }
        assertTrue(found > 15);
    }

    /** Returns the longest wire form of a 24-bit samples message: by the formula, never below what is encoded. */
    private static int longestFrame(int channels, int samples) {
        int plain = 11 + 3 * channels * samples;
        int formula = plain + (plain + 253) / 254 + 1;
        int[] counts = new int[channels * samples];
        Arrays.fill(counts, 0x7F7F7F);
        byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
        int mask = (1 << channels) - 1;
        int encoded = new ByteStreamEncoder().samples(0xFFFF, 0x7F7F7F7F, 7, mask, samples, counts, 0, 3, out, 0);
        assertTrue(encoded <= formula && encoded >= formula - 1, encoded + " of " + formula);
        return formula;
    }

    private static int longestLine(int channels) {
        int[] counts = new int[channels];
        Arrays.fill(counts, -8_388_608);
        byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
        return new TextEncoder().samples(65535, 0xFFFF_FFFFL, 7, (1 << channels) - 1, 1, counts, 0, 3, out, 0);
    }

    private static int samplesPerValue(int mtu, int channels, int width) {
        int value = Math.min(mtu - 3, 512);
        return Math.min(31, (value - 8) / (width * channels));
    }

    /** Returns the cells of the table that follows a line, without its two head rows. */
    private List<List<String>> tableAfter(String mark) {
        List<List<String>> rows = new ArrayList<>();
        for (String line : after(mark)) {
            rows.add(Arrays.stream(line.substring(1, line.length() - 1).split("\\|", -1))
                    .map(String::strip)
                    .toList());
        }
        assertTrue(rows.size() > 2, mark);
        return rows.subList(2, rows.size());
    }

    /** Returns the lines of the block that follows a line; blank lines before it are skipped. */
    private List<String> after(String mark) {
        int at = 0;
        while (!lines.get(at).startsWith(mark)) {
            at++;
        }
        at++;
        while (lines.get(at).isBlank()) {
            at++;
        }
        int end = at;
        while (!lines.get(end).isBlank()) {
            end++;
        }
        return lines.subList(at, end);
    }
}

package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.heldmark.record.RecordedItem.Kind;
import io.heldmark.record.Recordings.Packet;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page that describes the format is true: the reader printed in it, which shares nothing with ours, reads our files. */
class RecordingFormatPageTest {
    @TempDir
    Path folder;

    @Test
    void shouldBeReadByThePythonProgramOfThePage() throws Exception {
        Path program = Files.writeString(folder.resolve("page.py"), pythonOfThePage());
        List<Packet> items = Recordings.randomItems(new Random(51), 300);
        Path file = folder.resolve("page.pcapng");
        Recordings.write(file, items, true);
        Path printed = folder.resolve("printed.txt");
        assumeTrue(run(printed, "python3", "--version"), "python3 is not installed: the page's program is not tried");
        assertTrue(run(printed, "python3", program.toString(), file.toString()), () -> read(printed));

        List<String> expected = new ArrayList<>();
        for (Packet item : items) {
            String payload =
                    item.kind() == Kind.EVENT ? item.text() : HexFormat.of().formatHex(item.bytes());
            expected.add(item.timeNs() + " " + (item.link() + 1) + " " + payload);
        }
        List<String> lines = Files.readAllLines(printed);
        assertEquals(expected, lines.subList(0, items.size()));
        assertTrue(lines.get(items.size()).endsWith("\"lostEvents\":0}"), lines.get(items.size()));
    }

    @Test
    void shouldNameTheVersionAndTheLimitsThatTheCodeHas() throws Exception {
        String page = page();
        assertTrue(page.contains("# The recording format, `" + RecordingFacts.SCHEMA + "`"));
        assertTrue(page.contains("0 to 262,144 bytes") && Pcapng.MAX_PACKET_BYTES == 262_144);
        assertTrue(page.contains("at most 60,000 bytes") && RecordingFacts.MAX_JSON_BYTES == 60_000);
        assertTrue(page.contains("more than 1 MiB lies behind") && RecordingRepair.MAX_TAIL_BYTES == 1 << 20);
        assertTrue(page.contains("byte 2^62") && ChannelFile.LOCK_POSITION == 1L << 62);
        for (String event : List.of(StationEvents.END, StationEvents.GAP, StationEvents.REPAIRED)) {
            assertTrue(page.contains("| `" + event + "` |"), event);
        }
    }

    private static String page() throws IOException {
        return Files.readString(Path.of(System.getProperty("heldmark.root"), "docs", "recording-format.md"));
    }

    private static String pythonOfThePage() throws IOException {
        String page = page();
        int start = page.indexOf("```python\n") + "```python\n".length();
        return page.substring(start, page.indexOf("```", start));
    }

    private static boolean run(Path printed, String... command) throws InterruptedException {
        try {
            Process process = new ProcessBuilder(command)
                    .redirectErrorStream(true)
                    .redirectOutput(printed.toFile())
                    .start();
            return process.waitFor(60, TimeUnit.SECONDS) && process.exitValue() == 0;
        } catch (IOException e) {
            return false; // No such program here.
        }
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            return e.toString();
        }
    }
}

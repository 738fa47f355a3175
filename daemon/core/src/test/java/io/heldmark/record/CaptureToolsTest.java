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
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Outside truth: general capture tools read our files without complaint and see in them what we put in, and we still read a
 * file that such a tool wrote anew. The tools are capinfos, tshark and editcap of Wireshark, as Debian packages them.
 */
class CaptureToolsTest {
    /** Tells tshark that packets of our two link types are plain data; without it they are shown, but not as a field. */
    private static final String[] PLAIN_DATA = {
        "-o", "uat:user_dlts:\"User 0 (DLT=147)\",\"data\",\"0\",\"\",\"0\",\"\"",
        "-o", "uat:user_dlts:\"User 1 (DLT=148)\",\"data\",\"0\",\"\",\"0\",\"\""
    };

    @TempDir
    Path folder;

    /** What a tool printed. */
    private record Output(String text, List<String> complaints) {}

    private Output run(String... command) throws IOException, InterruptedException {
        Path text = Files.createTempFile(folder, "tool", ".out");
        Path complaints = Files.createTempFile(folder, "tool", ".err");
        ProcessBuilder builder =
                new ProcessBuilder(command).redirectOutput(text.toFile()).redirectError(complaints.toFile());
        builder.environment().put("LC_ALL", "C.UTF-8");
        builder.environment().put("HOME", folder.toString()); // No preferences of whoever runs the tests.
        Process process = builder.start();
        assertTrue(process.waitFor(120, TimeUnit.SECONDS), () -> command[0] + " does not end");
        List<String> lines = Files.readAllLines(complaints).stream()
                .filter(line -> !line.isBlank() && !line.startsWith("Running as user \"root\""))
                .toList();
        assertEquals(0, process.exitValue(), () -> String.join(" ", command) + ": " + lines);
        return new Output(Files.readString(text), lines);
    }

    private static void assumeTool(String name) {
        boolean present = Arrays.stream(System.getenv("PATH").split(java.io.File.pathSeparator, -1))
                .anyMatch(folder -> Files.isExecutable(Path.of(folder, name)));
        assumeTrue(present, name + " is not installed (Debian package tshark): not checked against it");
    }

    private Path recording(List<Packet> items) throws IOException {
        Path file = folder.resolve("tools.pcapng");
        Recordings.write(file, items, true);
        return file;
    }

    @Test
    void shouldBeReadByCapinfosWithoutComplaint() throws Exception {
        assumeTool("capinfos");
        List<Packet> items = Recordings.randomItems(new Random(31), 2_000);
        Output output = run("capinfos", "-A", "-M", recording(items).toString());
        assertEquals(List.of(), output.complaints());
        String text = output.text();
        assertTrue(text.contains("pcapng"), text);
        assertTrue(text.matches("(?s).*Number of packets: +" + (items.size() + 1) + "\\n.*"), text);
        assertTrue(text.contains("Heldmark 0.1.0"), text);
        assertTrue(text.contains("heldmark.recording/1"), text);
        assertTrue(text.matches("(?s).*Number of interfaces in file: +3\\n.*"), text);
        assertTrue(text.contains("Name = station"), text);
        assertTrue(text.contains("Name = serial:/dev/ttyUSB0?baud=115200"), text);
        assertTrue(text.contains("Time resolution = 0x09"), text);
    }

    @Test
    void shouldShowTsharkEveryPacketWithItsTimeInterfaceDirectionAndBytes() throws Exception {
        assumeTool("tshark");
        List<Packet> items = Recordings.randomItems(new Random(32), 500);
        List<String> command =
                new ArrayList<>(List.of("tshark", "-r", recording(items).toString()));
        command.addAll(List.of(PLAIN_DATA));
        command.addAll(List.of("-T", "fields", "-E", "separator=;"));
        for (String field : List.of(
                "frame.interface_id", "frame.time_epoch", "frame.len", "frame.packet_flags_direction", "data.data")) {
            command.addAll(List.of("-e", field));
        }
        Output output = run(command.toArray(new String[0]));
        assertEquals(List.of(), output.complaints());
        List<String> expected = new ArrayList<>();
        for (Packet item : items) {
            expected.add(line(item));
        }
        List<String> lines = output.text().lines().toList();
        assertEquals(items.size() + 1, lines.size());
        for (int i = 0; i < items.size(); i++) {
            assertEquals(expected.get(i), lines.get(i), "packet " + i);
        }
    }

    private static String line(Packet item) {
        long wallNs = ManualClock.WALL_ANCHOR_NS + item.timeNs();
        String direction = item.kind() == Kind.CHUNK ? "0x00000001" : item.kind() == Kind.SENT ? "0x00000002" : "";
        return String.format(
                Locale.ROOT,
                "%d;%d.%09d;%d;%s;%s",
                item.link() + 1,
                wallNs / 1_000_000_000,
                wallNs % 1_000_000_000,
                item.payload().size(),
                direction,
                HexFormat.of().formatHex(item.bytes()));
    }

    @Test
    void shouldBeReadByTsharkAfterARepair() throws Exception {
        assumeTool("tshark");
        List<Packet> items = Recordings.randomItems(new Random(33), 200);
        Path file = folder.resolve("cut.pcapng");
        Recordings.write(file, items, false);
        Files.write(file, Arrays.copyOf(Files.readAllBytes(file), (int) Files.size(file) - 9));
        RecordingReader.repair(file);
        Output output = run("tshark", "-r", file.toString(), "-T", "fields", "-e", "frame.number");
        assertEquals(List.of(), output.complaints());
        assertEquals(items.size(), output.text().lines().count(), "one packet was cut, one event was added");
    }

    @Test
    void shouldReadARecordingThatEditcapWroteAnew() throws Exception {
        assumeTool("editcap");
        List<Packet> items = Recordings.randomItems(new Random(34), 300);
        Path anew = folder.resolve("anew.pcapng");
        run("editcap", "-F", "pcapng", recording(items).toString(), anew.toString());
        try (RecordingReader reader = RecordingReader.open(anew)) {
            List<Packet> read = Recordings.readAll(reader);
            assertEquals(items, read.subList(0, items.size()));
            assertEquals(List.of(), reader.notes());
            assertTrue(reader.complete());
        }
    }
}

package io.heldmark.record;

import io.heldmark.record.Recordings.Packet;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

/**
 * Makes the recordings from which the fuzz tests of the reader start; they lie in the test resources. To make them anew,
 * empty those folders and run this class with the path of {@code daemon/core/src/test/resources/io/heldmark/record}.
 */
final class FuzzCorpus {
    private FuzzCorpus() {}

    public static void main(String[] args) throws IOException {
        for (String test : List.of(
                "RecordingBlocksFuzzTestInputs/shouldReadAnythingWithoutAFault",
                "RecordingRepairFuzzTestInputs/shouldRepairAnythingWithoutTouchingWholeBlocks")) {
            write(Files.createDirectories(Path.of(args[0], test)));
        }
    }

    static void write(Path folder) throws IOException {
        List<Packet> items = Recordings.randomItems(new Random(41), 6).stream()
                .filter(item -> item.payload().size() < 100)
                .toList();
        Recordings.write(folder.resolve("ended.pcapng"), items, true);
        Recordings.write(folder.resolve("crashed.pcapng"), items, false);
        byte[] whole = Files.readAllBytes(folder.resolve("crashed.pcapng"));
        Files.write(folder.resolve("cut.pcapng"), Arrays.copyOf(whole, whole.length - 7));
        Files.write(folder.resolve("zeros.pcapng"), Arrays.copyOf(whole, whole.length + 64));
        Files.write(folder.resolve("header.pcapng"), Arrays.copyOf(whole, 300));
        try (RecordingWriter writer = RecordingWriter.create(folder.resolve("later.pcapng"), Recordings.header())) {
            writer.event(1, "{\"event\":\"clock\"}");
            writer.addLink(Recordings.RIGHT);
            writer.chunk(0, 2, new byte[] {1, 2, 3}, 0, 3);
            writer.end(3, 1, 5, 0);
        }
    }
}

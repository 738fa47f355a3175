package io.heldmark.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.record.LinkHeader;
import io.heldmark.record.RecordingException;
import io.heldmark.record.RecordingSummary;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code heldmark recordings}: what lies in the data folder. */
@Command(name = "recordings", description = "List the recordings in the data folder.", mixinStandardHelpOptions = true)
final class RecordingsCommand implements Callable<Integer> {
    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss", Locale.ROOT).withZone(ZoneId.systemDefault());

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private DataArguments data;

    @Option(names = "--json", description = "One JSON object a line.")
    private boolean json;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        PrintWriter out = spec.commandLine().getOut();
        PrintWriter err = spec.commandLine().getErr();
        int code = 0;
        List<Path> files = files(data.folder());
        for (Path file : files) {
            try {
                RecordingSummary summary = RecordingSummary.of(file);
                out.println(json ? jsonOf(summary) : textOf(summary));
            } catch (RecordingException e) {
                err.println("heldmark: " + e.getMessage());
                code = Main.BAD_INPUT;
            }
        }
        if (files.isEmpty()) {
            err.println("no recordings in " + data.folder());
        }
        out.flush();
        return code;
    }

    private static List<Path> files(Path folder) throws IOException {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> all = Files.walk(folder, 4)) {
            return all.filter(f -> f.toString().endsWith(".pcapng") && Files.isRegularFile(f))
                    .sorted()
                    .toList();
        }
    }

    private static String textOf(RecordingSummary summary) {
        List<String> links =
                summary.header().links().stream().map(LinkHeader::name).toList();
        String notes = summary.notes().isEmpty() ? "" : "  (" + String.join("; ", summary.notes()) + ")";
        return String.format(
                Locale.ROOT,
                "%s  %s  %.1f s  %s  %s%s",
                summary.file(),
                TIME.format(startOf(summary)),
                summary.durationNs() / 1e9,
                summary.complete() ? "complete" : "not complete",
                String.join(", ", links),
                notes);
    }

    private static String jsonOf(RecordingSummary summary) {
        ObjectNode node = JsonLines.object()
                .put("file", summary.file().toString())
                .put("startedAt", startOf(summary).toString())
                .put("durationS", summary.durationNs() / 1e9)
                .put("bytes", summary.bytes())
                .put("complete", summary.complete());
        ArrayNode links = node.putArray("links");
        summary.header().links().forEach(link -> links.add(link.name()));
        ArrayNode notes = node.putArray("notes");
        summary.notes().forEach(notes::add);
        return node.put("stationVersion", summary.header().stationVersion()).toString();
    }

    private static Instant startOf(RecordingSummary summary) {
        long ns = summary.startedAtWallNs();
        return Instant.ofEpochSecond(Math.floorDiv(ns, 1_000_000_000L), Math.floorMod(ns, 1_000_000_000L));
    }
}

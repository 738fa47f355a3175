package io.heldmark.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.conform.Evidence;
import io.heldmark.conform.Outcome;
import io.heldmark.conform.Report;
import io.heldmark.conform.RuleResult;
import io.heldmark.protocol.Describe;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** A conformance report: for people, as Markdown, and as JSON ({@code heldmark.conformance/1}). */
final class ConformDocument {
    private static final String SCHEMA = "heldmark.conformance/1";
    private static final String SPECIFICATION = "Gaugeline 1.0";
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss").withZone(ZoneOffset.UTC);

    private final String link;
    private final Report report;
    private final Instant startedAt;
    private final boolean strict;

    ConformDocument(String link, Report report, long wallAnchorNs, boolean strict) {
        this.link = link;
        this.report = report;
        this.strict = strict;
        startedAt = Instant.ofEpochSecond(wallAnchorNs / 1_000_000_000L);
    }

    /** Returns whether the sender conforms as far as it was seen. */
    boolean conforms() {
        return report.conforms() && (!strict || report.count(Outcome.ADVICE) == 0);
    }

    /** Returns the report for a terminal. */
    String text() {
        StringBuilder out = new StringBuilder();
        for (RuleResult result : report.results()) {
            String words =
                    result.outcome() == Outcome.FAIL ? "FAIL" : result.outcome().words();
            out.append(String.format(
                    Locale.ROOT, "%-9s %-17s %s%n", words, result.rule().id(), said(result)));
            if (result.outcome() == Outcome.FAIL || result.outcome() == Outcome.ADVICE) {
                out.append(String.format(
                        Locale.ROOT,
                        "          rule: %s (%s)%n",
                        result.rule().text(),
                        result.rule().section()));
                result.evidence()
                        .forEach(e -> out.append("          ").append(shown(e)).append('\n'));
            }
        }
        return out.append(summary()).append('\n').toString();
    }

    private static String said(RuleResult result) {
        if (result.outcome() == Outcome.NOT_SEEN) {
            return result.text();
        }
        String times =
                result.broken() == 0 ? result.seen() + " seen" : result.broken() + " of " + result.seen() + " broken";
        return result.text().isEmpty() ? times : result.text() + " (" + times + ")";
    }

    private static String shown(Evidence e) {
        return String.format(Locale.ROOT, "%.3f s %s %s", e.atNs() * 1e-9, e.sent() ? "sent:" : "came:", e.hex());
    }

    private String summary() {
        String verdict = conforms() ? "conforms, as far as it was seen" : "does not conform";
        String broke = report.broke().isEmpty() ? "" : "; the run ended early: " + report.broke();
        return String.format(
                Locale.ROOT,
                "%s %s: %d pass, %d fail, %d advice, %d not seen%s",
                name(),
                verdict,
                report.count(Outcome.PASS),
                report.count(Outcome.FAIL),
                report.count(Outcome.ADVICE),
                report.count(Outcome.NOT_SEEN),
                broke);
    }

    private String name() {
        Describe describe = report.describe();
        return describe == null ? "the device" : describe.deviceId();
    }

    /** Returns the report as Markdown. */
    String markdown() {
        StringBuilder out = new StringBuilder();
        out.append("# Conformance of ")
                .append(plain(name()))
                .append("\n\n")
                .append(plain(summary()))
                .append(".\n\n");
        out.append("| | |\n|---|---|\n");
        row(out, "specification", SPECIFICATION);
        row(out, "link", link);
        row(out, "binding", report.binding());
        row(out, "started", startedAt.toString());
        row(out, "length", String.format(Locale.ROOT, "%.1f s", report.lengthS()));
        row(out, "received", report.bytes() + " bytes, " + report.messages() + " messages");
        Describe d = report.describe();
        if (d != null) {
            row(out, "device", d.deviceId() + ", " + d.model() + ", " + d.firmware());
            row(out, "sample rate", d.sampleRateHz() + " Hz, " + d.channels().size() + " channel(s)");
        }
        row(out, "station", Version.text());
        out.append("\n| outcome | rule | what it asks for | section | what was seen |\n|---|---|---|---|---|\n");
        for (RuleResult r : report.results()) {
            out.append("| ")
                    .append(r.outcome().words())
                    .append(" | `")
                    .append(r.rule().id())
                    .append("` | ");
            out.append(plain(r.rule().text()))
                    .append(" | ")
                    .append(r.rule().section())
                    .append(" | ");
            out.append(plain(said(r))).append(" |\n");
        }
        out.append("\n## Evidence\n");
        for (RuleResult r : report.results()) {
            if (!r.evidence().isEmpty()) {
                out.append("\n`")
                        .append(r.rule().id())
                        .append("`, ")
                        .append(r.outcome().words())
                        .append("\n\n```text\n");
                r.evidence().forEach(e -> out.append(shown(e)).append('\n'));
                out.append("```\n");
            }
        }
        return out.toString();
    }

    private static void row(StringBuilder out, String key, String value) {
        out.append("| ").append(key).append(" | ").append(plain(value)).append(" |\n");
    }

    /** What a device says of itself is not to be trusted: nothing in it may act as markup. */
    private static String plain(String text) {
        return text.replaceAll("([\\\\`*_\\[\\]<>|&#])", "\\\\$1");
    }

    /** Returns the report as one line of JSON. */
    String json() {
        ObjectNode o = JsonLines.object()
                .put("schema", SCHEMA)
                .put("stationVersion", Version.text())
                .put("specification", SPECIFICATION)
                .put("link", link)
                .put("binding", report.binding())
                .put("startedAt", startedAt.toString())
                .put("durationS", report.lengthS())
                .put("bytes", report.bytes())
                .put("messages", report.messages())
                .put("conforms", conforms())
                .put("strict", strict);
        if (!report.broke().isEmpty()) {
            o.put("endedEarly", report.broke());
        }
        Describe d = report.describe();
        if (d != null) {
            ObjectNode device = o.putObject("device").put("deviceId", d.deviceId());
            device.put("model", d.model()).put("firmware", d.firmware());
            device.put("sampleRateHz", d.sampleRateHz()).put("tickRateHz", d.tickRateHz());
            device.put("channels", d.channels().size());
        }
        ArrayNode rules = o.putArray("rules");
        report.results().forEach(result -> rule(rules.addObject(), result));
        return o.toString();
    }

    private static void rule(ObjectNode o, RuleResult r) {
        o.put("rule", r.rule().id()).put("outcome", r.outcome().words());
        o.put("text", r.rule().text()).put("section", r.rule().section());
        o.put("seen", r.seen()).put("broken", r.broken());
        if (!r.text().isEmpty()) {
            o.put("found", r.text());
        }
        ArrayNode evidence = o.putArray("evidence");
        for (Evidence e : r.evidence()) {
            evidence.addObject()
                    .put("atS", e.atNs() * 1e-9)
                    .put("from", e.sent() ? "station" : "device")
                    .put("hex", e.hex())
                    .put("bytes", e.length());
        }
    }

    /** Writes both forms into a folder, each whole or not at all; returns the path of the Markdown. */
    Path write(Path folder) throws IOException {
        Files.createDirectories(folder);
        String device = name().replaceAll("[^A-Za-z0-9.-]", "_").replaceAll("^[.]+", "_");
        String base = device + "-" + STAMP.format(startedAt);
        whole(folder.resolve(base + ".json"), json() + "\n");
        Path markdown = folder.resolve(base + ".md");
        whole(markdown, markdown());
        return markdown;
    }

    private static void whole(Path file, String text) throws IOException {
        Path part = file.resolveSibling(file.getFileName() + ".part");
        try (FileChannel channel = FileChannel.open(
                        part,
                        StandardOpenOption.CREATE,
                        StandardOpenOption.WRITE,
                        StandardOpenOption.TRUNCATE_EXISTING);
                OutputStream out = Channels.newOutputStream(channel)) {
            out.write(text.getBytes(StandardCharsets.UTF_8));
            channel.force(true);
        }
        Files.move(part, file, StandardCopyOption.ATOMIC_MOVE);
    }
}

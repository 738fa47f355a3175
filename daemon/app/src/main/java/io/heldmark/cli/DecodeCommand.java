package io.heldmark.cli;

import io.heldmark.decode.NumberDecoder;
import io.heldmark.decode.NumberLayout;
import io.heldmark.link.LinkAddress;
import io.heldmark.protocol.AutoDecoder;
import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.TextDecoder;
import io.heldmark.record.LinkHeader;
import io.heldmark.record.RecordedItem;
import io.heldmark.record.RecordingException;
import io.heldmark.record.RecordingReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code heldmark decode}: captured bytes or a recording, message by message. */
@Command(
        name = "decode",
        description = "Print the messages in a captured byte stream or a recording.",
        mixinStandardHelpOptions = true)
final class DecodeCommand implements Callable<Integer> {
    private static final byte[] PCAPNG = {0x0A, 0x0D, 0x0D, 0x0A};
    private static final int BLOCK_BYTES = 64 * 1024;

    @Parameters(paramLabel = "FILE", description = "Captured bytes as a device sent them, or a recording.")
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private Path file;

    @Option(names = "--json", description = "One JSON object a line.")
    private boolean json;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    private boolean unusable;

    @Override
    public Integer call() throws Exception {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(file + ": there is no such file");
        }
        PrintWriter out = spec.commandLine().getOut();
        if (isPcapng()) {
            decodeRecording(out);
        } else {
            decodeBytes(out);
        }
        out.flush();
        return unusable ? Main.BAD_INPUT : 0;
    }

    private boolean isPcapng() throws IOException {
        try (InputStream in = Files.newInputStream(file)) {
            return Arrays.equals(in.readNBytes(PCAPNG.length), PCAPNG);
        }
    }

    private void decodeBytes(PrintWriter out) throws IOException {
        MessagePrinter printer = new MessagePrinter(out, json, "");
        StreamDecoder decoder = new AutoDecoder(printer);
        byte[] block = new byte[BLOCK_BYTES];
        try (InputStream in = Files.newInputStream(file)) {
            int length;
            while ((length = in.read(block)) > 0 && !out.checkError()) {
                decoder.accept(block, 0, length);
            }
        }
        printer.end(decoder.counters());
        if (decoder.counters().messages == 0) {
            spec.commandLine()
                    .getErr()
                    .println("heldmark: " + file + ": no message of the protocol in it; is it a capture of a device?");
            unusable = true;
        }
    }

    private void decodeRecording(PrintWriter out) throws RecordingException {
        try (RecordingReader reader = RecordingReader.openUnchanged(file)) {
            List<MessagePrinter> printers = new ArrayList<>();
            List<StreamDecoder> decoders = new ArrayList<>();
            RecordedItem item = new RecordedItem();
            while (reader.next(item) && !out.checkError()) {
                while (decoders.size() < reader.links().size()) {
                    var link = reader.links().get(decoders.size());
                    MessagePrinter printer = new MessagePrinter(out, json, link.name());
                    printers.add(printer);
                    decoders.add(decoderOf(link, printer));
                }
                if (item.kind() == RecordedItem.Kind.CHUNK) {
                    printers.get(item.link()).arrivedAt(item.timeNs());
                    if (decoders.get(item.link()) instanceof NumberDecoder numbers) {
                        numbers.arrivedAt(item.timeNs());
                    }
                    decoders.get(item.link()).accept(item.bytes(), item.offset(), item.length());
                } else if (item.kind() == RecordedItem.Kind.EVENT) {
                    MessagePrinter.event(out, json, item.timeNs(), item.json());
                }
            }
            for (int link = 0; link < decoders.size(); link++) {
                printers.get(link).end(decoders.get(link).counters());
            }
            reader.notes().forEach(note -> spec.commandLine().getErr().println("heldmark: " + file + ": " + note));
        }
    }

    private static StreamDecoder decoderOf(LinkHeader link, MessagePrinter printer) {
        return switch (link.binding()) {
            case "BYTES" -> new ByteStreamDecoder(printer);
            case "TEXT" -> new TextDecoder(printer);
            case "GATT" -> new GattDecoder(printer);
            case "NUMBERS" ->
                new NumberDecoder(NumberLayout.of(LinkAddress.parse(link.name()).options()), printer);
            default -> new AutoDecoder(printer);
        };
    }
}

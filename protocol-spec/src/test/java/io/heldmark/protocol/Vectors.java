package io.heldmark.protocol;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.function.Function;

/** The golden vectors in {@code protocol-spec/vectors}. */
final class Vectors {
    static final Path FOLDER = Path.of(System.getProperty("heldmark.root"), "protocol-spec", "vectors");
    static final List<String> FILES =
            List.of("bytes.json", "text.json", "gatt.json", "hand-bytes.json", "hand-text.json", "hand-gatt.json");

    private Vectors() {}

    /** One vector with the binding of its file. */
    record Vector(String file, String binding, JsonNode json) {
        String name() {
            return file + ": " + json.get("name").asText();
        }

        List<byte[]> chunks() {
            List<byte[]> chunks = new ArrayList<>();
            json.get("chunks").forEach(c -> chunks.add(HexFormat.of().parseHex(c.asText())));
            return chunks;
        }

        byte[] bytes() {
            ByteArrayOutputStream all = new ByteArrayOutputStream();
            chunks().forEach(all::writeBytes);
            return all.toByteArray();
        }

        boolean isGatt() {
            return binding.equals("gatt");
        }

        StreamDecoder decoder(MessageHandler handler) {
            Function<MessageHandler, StreamDecoder> decoder = switch (binding) {
                case "bytes" -> ByteStreamDecoder::new;
                case "text" -> TextDecoder::new;
                case "gatt" -> GattDecoder::new;
                default -> throw new IllegalArgumentException(binding);
            };
            return decoder.apply(handler);
        }

        MessageEncoder encoder() {
            return switch (binding) {
                case "bytes" -> new ByteStreamEncoder();
                case "text" -> json.path("checks").asBoolean(true) ? new TextEncoder() : TextEncoder.withoutChecks();
                case "gatt" -> new GattEncoder();
                default -> throw new IllegalArgumentException(binding);
            };
        }

        @Override
        public String toString() {
            return name();
        }
    }

    static JsonNode read(String file) {
        try {
            return new ObjectMapper().readTree(FOLDER.resolve(file).toFile());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static List<Vector> all() {
        List<Vector> vectors = new ArrayList<>();
        for (String file : FILES) {
            JsonNode document = read(file);
            String binding = document.get("binding").asText();
            document.get("vectors").forEach(v -> vectors.add(new Vector(file, binding, v)));
        }
        return vectors;
    }
}

package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.MissingNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * What happened to each cell, dated: {@code KIND/DEVICE/CHANNEL.json} in the data folder, folders named as by
 * {@link CalibrationStore}. A file is whole or not there. The newest {@value #MOST} entries of a channel are kept.
 *
 * <p><b>Threading.</b> Any thread; one write at a time in a process.
 */
public final class CellLog {
    /** The member that dates an entry, in universal time as ISO 8601 has it; two of a channel differ in it. */
    public static final String AT = "at";

    private static final String SCHEMA = "heldmark.cellLog/1";
    private static final int MOST = 1000;
    private static final Object ONE_AT_A_TIME = new Object();
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private final Path folder;

    private CellLog(Path folder) {
        this.folder = folder;
    }

    /** Returns the quick checks of a data folder, which need not exist. */
    public static CellLog checks(Path dataDir) {
        return new CellLog(dataDir.resolve("checks"));
    }

    /** Returns the overloads of a data folder, which need not exist. */
    public static CellLog overloads(Path dataDir) {
        return new CellLog(dataDir.resolve("overloads"));
    }

    /**
     * Returns what is known of a channel, the oldest first.
     *
     * @throws ConfigException with one line if the file cannot be read.
     */
    public List<ObjectNode> entries(String deviceId, int deviceChannel) {
        Path file = file(deviceId, deviceChannel);
        if (!Files.isRegularFile(file)) {
            return List.of();
        }
        try {
            JsonNode json = MAPPER.readTree(Files.readString(file));
            List<ObjectNode> entries = new ArrayList<>();
            for (JsonNode entry : json.path("entries")) {
                if (entry instanceof ObjectNode one && one.path(AT).isTextual()) {
                    entries.add(one);
                }
            }
            if (!json.path("schema").asText().equals(SCHEMA)) {
                throw new ConfigException("history", file.toString(), "a file that the station wrote");
            }
            return entries;
        } catch (IOException e) {
            throw new ConfigException("history", file.toString(), "a file that is whole and can be read; move it away");
        }
    }

    /** A channel of a device. */
    public record Cell(String deviceId, int deviceChannel) {}

    /**
     * Returns the channels of which anything is known, in the files' order.
     *
     * @param remarks gets a sentence for each file that cannot be read.
     */
    public List<Cell> cells(List<String> remarks) {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        List<Cell> cells = new ArrayList<>();
        try (Stream<Path> all = Files.walk(folder, 2)) {
            for (Path file :
                    all.filter(f -> f.toString().endsWith(".json")).sorted().toList()) {
                JsonNode json = read(file);
                if (json.path("schema").asText().equals(SCHEMA)) {
                    cells.add(new Cell(
                            json.path("deviceId").asText(),
                            json.path("deviceChannel").asInt()));
                } else {
                    remarks.add(file + " is no history of a cell that the station can read; move it away");
                }
            }
        } catch (IOException | UncheckedIOException e) {
            remarks.add(folder + " cannot be read: " + e.getMessage());
        }
        return cells;
    }

    private static JsonNode read(Path file) throws IOException {
        try {
            return MAPPER.readTree(Files.readString(file));
        } catch (JsonProcessingException e) {
            return MissingNode.getInstance();
        }
    }

    /**
     * Adds an entry; one of the same date takes the place of the one before.
     *
     * @return the file.
     * @throws IOException if it cannot be written; the file then is as it was.
     * @throws ConfigException if what is there cannot be read; it is left as it is.
     */
    public Path put(String deviceId, int deviceChannel, ObjectNode entry) throws IOException {
        synchronized (ONE_AT_A_TIME) {
            List<ObjectNode> entries = new ArrayList<>(entries(deviceId, deviceChannel));
            String at = entry.path(AT).asText();
            entries.removeIf(one -> one.path(AT).asText().equals(at));
            entries.add(entry);
            Path file = file(deviceId, deviceChannel);
            Files.createDirectories(file.toAbsolutePath().getParent());
            ObjectNode document = MAPPER.createObjectNode().put("schema", SCHEMA);
            document.put("deviceId", deviceId).put("deviceChannel", deviceChannel);
            ArrayNode kept = document.putArray("entries");
            entries.subList(Math.max(0, entries.size() - MOST), entries.size()).forEach(kept::add);
            WholeFile.write(file, document.toPrettyString() + "\n");
            return file;
        }
    }

    private Path file(String deviceId, int deviceChannel) {
        return folder.resolve(CalibrationStore.fileName(deviceId)).resolve(deviceChannel + ".json");
    }
}

package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * The calibrations of a station: one JSON file each, {@code calibrations/DEVICE/CHANNEL-vVERSION.json} in the data folder. Versions
 * count from 1 for each channel; none is ever changed. A file is complete or not there: it is written under another name, forced
 * to the disk and then renamed.
 *
 * <p>The device's name in the folder has every character other than letters, digits, {@code .}, {@code _} and {@code -} written as
 * {@code %} and its number in hexadecimal; the file itself says which device it is.
 */
public final class CalibrationStore {
    /** The schema that a saved calibration names. */
    public static final String SCHEMA = "heldmark.calibration/1";

    /** As many as the facts of a link in a recording have room for. */
    private static final int MOST = 50;

    private static final String USE = "use";
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private final Path folder;

    /** What was found in the store for a station that starts on a day. */
    public record Found(List<BoundCalibration> valid, List<String> remarks) {
        /** Copies the lists. */
        public Found {
            valid = List.copyOf(valid);
            remarks = List.copyOf(remarks);
        }
    }

    private record Stored(int version, LocalDate validUntil, BoundCalibration bound) {}

    /** Makes the store of a data folder, which need not exist. */
    public CalibrationStore(Path dataDir) {
        folder = dataDir.resolve("calibrations");
    }

    /**
     * Saves a calibration as the next version of its channel.
     *
     * @param document what was found; gets the members {@code id}, {@code deviceId}, {@code deviceChannel}, {@code version},
     *     {@code validUntil} and {@code use}.
     * @return the file.
     * @throws IOException if it cannot be written.
     */
    public Path save(
            ObjectNode document,
            String deviceId,
            int deviceChannel,
            LocalDate validUntil,
            StationCalibration calibration)
            throws IOException {
        Path home = folder.resolve(fileName(deviceId));
        Files.createDirectories(home);
        int version = newest(home, deviceChannel) + 1;
        document.put("id", deviceId + "/" + deviceChannel + " v" + version);
        document.put("deviceId", deviceId).put("deviceChannel", deviceChannel).put("version", version);
        document.put("validUntil", validUntil.toString());
        LinkFacts.put(document.putObject(USE), calibration);
        Path part = Files.createTempFile(home, "saving", ".part");
        try {
            byte[] text = (MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(document) + "\n")
                    .getBytes(StandardCharsets.UTF_8);
            Files.write(part, text);
            try (FileChannel channel = FileChannel.open(part, StandardOpenOption.WRITE)) {
                channel.force(true);
            }
            return Files.move(
                    part, home.resolve(deviceChannel + "-v" + version + ".json"), StandardCopyOption.ATOMIC_MOVE);
        } finally {
            Files.deleteIfExists(part);
        }
    }

    /** Returns the newest calibration of each channel whose last day is not over, and remarks on what was left out. */
    public Found validOn(LocalDate day) {
        Map<String, Stored> newest = new LinkedHashMap<>();
        List<String> remarks = new ArrayList<>();
        for (Path file : files()) {
            try {
                Stored stored = stored(file);
                String key = stored.bound.deviceId() + "/" + stored.bound.deviceChannel();
                Stored before = newest.get(key);
                if (before == null || before.version < stored.version) {
                    newest.put(key, stored);
                }
            } catch (ConfigException e) {
                remarks.add(String.valueOf(e.getMessage()));
            }
        }
        List<Stored> latest = new ArrayList<>(newest.values());
        latest.sort(Comparator.comparing(Stored::validUntil).reversed()); // Stable: else in the order of the files.
        List<BoundCalibration> valid = new ArrayList<>();
        for (Stored one : latest) {
            if (one.validUntil.isBefore(day)) {
                remarks.add("calibration " + one.bound.id() + " was valid until " + one.validUntil
                        + " and is not used; calibrate the cell again");
            } else if (valid.size() < MOST) {
                valid.add(one.bound);
            } else {
                remarks.add("calibration " + one.bound.id() + " is not used: a station holds " + MOST + " at most");
            }
        }
        return new Found(valid, remarks);
    }

    /**
     * Reads the calibration in a file.
     *
     * @throws ConfigException with one line if it holds none.
     */
    public static BoundCalibration read(Path file) {
        return stored(file).bound;
    }

    private static Stored stored(Path file) {
        try {
            JsonNode json = MAPPER.readTree(Files.readString(file));
            StationCalibration calibration = LinkFacts.calibration(json.path(USE));
            if (!json.path("schema").asText().equals(SCHEMA) || calibration == null) {
                throw new ConfigException(
                        "calibration", file.toString(), "a file that heldmark calibrate --save wrote");
            }
            BoundCalibration bound = new BoundCalibration(
                    json.path("id").asText(),
                    json.path("deviceId").asText(),
                    json.path("deviceChannel").asInt(-1),
                    checked(calibration),
                    false);
            return new Stored(
                    json.path("version").asInt(),
                    LocalDate.parse(json.path("validUntil").asText()),
                    bound);
        } catch (JsonProcessingException | DateTimeParseException | IllegalArgumentException e) {
            throw new ConfigException(
                    "calibration",
                    file.toString(),
                    "a file that is whole; it cannot be read as JSON of a" + " calibration");
        } catch (IOException e) {
            throw new ConfigException("calibration", file.toString(), "a file that can be read");
        }
    }

    private static StationCalibration checked(StationCalibration c) {
        double size = Math.abs(c.newtonPerCount());
        if (!(size > 0 && size <= 1e12 && Math.abs(c.zeroCounts()) <= 1e12 && !(c.relativeU() > 1))) {
            throw new IllegalArgumentException("slope, zero or uncertainty out of range: " + c);
        }
        return c;
    }

    private List<Path> files() {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> all = Files.walk(folder, 2)) {
            return all.filter(f -> f.toString().endsWith(".json")).sorted().toList();
        } catch (IOException e) {
            throw new ConfigException("calibrations", folder.toString(), "a folder that can be read");
        }
    }

    private static int newest(Path home, int channel) throws IOException {
        String start = channel + "-v";
        try (Stream<Path> all = Files.list(home)) {
            return all.map(f -> String.valueOf(f.getFileName()))
                    .filter(name -> name.matches(start + "[0-9]{1,9}\\.json"))
                    .mapToInt(
                            name -> Integer.parseInt(name.substring(start.length(), name.length() - ".json".length())))
                    .max()
                    .orElse(0);
        }
    }

    private static String fileName(String deviceId) {
        StringBuilder name = new StringBuilder();
        for (byte b : deviceId.getBytes(StandardCharsets.UTF_8)) {
            char c = (char) (b & 0xFF);
            boolean plain =
                    c < 128 && (Character.isLetterOrDigit(c) || c == '_' || c == '-' || (c == '.' && !name.isEmpty()));
            name.append(plain ? String.valueOf(c) : String.format("%%%02x", (int) c));
        }
        return name.toString();
    }
}

package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * The calibrations of a station: one JSON file each, {@code calibrations/DEVICE/CHANNEL-vVERSION.json} in the data folder. Versions
 * count from 1 for each channel; none is ever changed. A file is complete or not there. {@code CHANNEL.chosen} beside them holds
 * the version that somebody chose; without it the newest is used.
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
        Path file = home.resolve(deviceChannel + "-v" + version + ".json");
        WholeFile.write(file, MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(document) + "\n");
        Files.deleteIfExists(choice(file, deviceChannel)); // The newest holds until somebody chooses again.
        return file;
    }

    /**
     * Returns the calibration of each channel whose last day is not over, and remarks on what was left out: the version that
     * somebody chose, else the newest.
     */
    public Found validOn(LocalDate day) {
        List<String> remarks = new ArrayList<>();
        List<CalibrationVersion> latest = new ArrayList<>(inUse(remarks));
        latest.sort(
                Comparator.comparing(CalibrationVersion::validUntil).reversed()); // Stable: else in the files' order.
        List<BoundCalibration> valid = new ArrayList<>();
        for (CalibrationVersion one : latest) {
            if (one.overOn(day)) {
                remarks.add("calibration " + one.bound().id() + " was valid until " + one.validUntil()
                        + " and is not used; calibrate the cell again");
            } else if (valid.size() < MOST) {
                valid.add(one.bound());
            } else {
                remarks.add("calibration " + one.bound().id() + " is not used: a station holds " + MOST + " at most");
            }
        }
        return new Found(valid, remarks);
    }

    /**
     * Returns the version of each channel that is used while it is valid, in the files' order: the one that somebody chose, else the
     * newest.
     *
     * @param remarks gets a sentence for each file that cannot be read.
     */
    public Collection<CalibrationVersion> inUse(List<String> remarks) {
        Map<String, CalibrationVersion> latest = new LinkedHashMap<>();
        for (Path file : files()) {
            try {
                CalibrationVersion stored = stored(file);
                String key = stored.bound().deviceId() + "/" + stored.bound().deviceChannel();
                latest.merge(key, stored, CalibrationStore::inUse);
            } catch (ConfigException e) {
                remarks.add(String.valueOf(e.getMessage()));
            }
        }
        return latest.values();
    }

    /** Of two versions of one channel: the chosen one, else the newer. */
    private static CalibrationVersion inUse(CalibrationVersion a, CalibrationVersion b) {
        int chosen = chosen(a.file(), a.bound().deviceChannel());
        if (a.version() == chosen || b.version() == chosen) {
            return a.version() == chosen ? a : b;
        }
        return a.version() > b.version() ? a : b;
    }

    /** Returns the versions of a channel that can be read, the newest first. */
    public List<CalibrationVersion> versions(String deviceId, int deviceChannel) {
        List<CalibrationVersion> versions = new ArrayList<>();
        Path home = folder.resolve(fileName(deviceId));
        for (Path file : files()) {
            if (!home.equals(file.getParent())) {
                continue;
            }
            try {
                CalibrationVersion one = stored(file);
                if (one.bound().isOf(deviceId, deviceChannel)) {
                    versions.add(one);
                }
            } catch (ConfigException notReadable) {
                // The station says so when it starts; what it cannot read it cannot use either.
            }
        }
        versions.sort(Comparator.comparing(CalibrationVersion::version).reversed());
        return versions;
    }

    /**
     * Makes a version the one that is used from now on; holds until a newer one is saved.
     *
     * @throws IOException if that cannot be written down.
     */
    public void choose(CalibrationVersion version) throws IOException {
        WholeFile.write(choice(version.file(), version.bound().deviceChannel()), version.version() + "\n");
    }

    private static Path choice(Path version, int deviceChannel) {
        return version.resolveSibling(deviceChannel + ".chosen");
    }

    /** Returns the version that somebody chose; 0 where nobody did. */
    private static int chosen(Path version, int deviceChannel) {
        Path file = choice(version, deviceChannel);
        try {
            String text = Files.isRegularFile(file) ? Files.readString(file).strip() : "";
            return text.matches("[0-9]{1,9}") ? Integer.parseInt(text) : 0;
        } catch (IOException e) {
            throw new ConfigException("calibrations", file.toString(), "a file that can be read");
        }
    }

    /**
     * Reads the calibration in a file.
     *
     * @throws ConfigException with one line if it holds none.
     */
    public static BoundCalibration read(Path file) {
        return stored(file).bound();
    }

    /**
     * Reads the version in a file.
     *
     * @throws ConfigException with one line if it holds none.
     */
    public static CalibrationVersion version(Path file) {
        return stored(file);
    }

    private static CalibrationVersion stored(Path file) {
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
            return new CalibrationVersion(
                    json.path("version").asInt(),
                    json.path("calibratedBy").asText(),
                    json.path("evaluatedOn").asText(),
                    LocalDate.parse(json.path("validUntil").asText()),
                    file,
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

    static String fileName(String deviceId) {
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

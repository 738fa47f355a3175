package io.heldmark.cells;

import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.heldmark.pipeline.WholeFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Keeps the guided calibration that is on its way: {@code guided-calibration.json} in the data folder, whole or not there. */
class GuidedStore {
    private static final Logger LOG = LoggerFactory.getLogger(GuidedStore.class);
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private final Path file;

    GuidedStore(Path dataDir) {
        file = dataDir.resolve("guided-calibration.json");
    }

    /** Returns the one that was kept; absent where there is none, or none that can be read. */
    @Nullable GuidedCalibration load() {
        if (!Files.isRegularFile(file)) {
            return null;
        }
        try {
            return GuidedCalibration.read(MAPPER.readTree(Files.readString(file)));
        } catch (IOException | IllegalArgumentException | IllegalStateException | Refusal e) {
            LOG.warn("{} holds no guided calibration that can be read; it is left as it is", file, e);
            return null;
        }
    }

    /** Keeps one. */
    void keep(GuidedCalibration guided) {
        try {
            Files.createDirectories(file.toAbsolutePath().getParent());
            WholeFile.write(file, guided.write(MAPPER.createObjectNode()).toPrettyString() + "\n");
        } catch (IOException e) {
            throw Refusal.failed(file + " cannot be written: " + e.getMessage() + ". Make room, then repeat the step.");
        }
    }

    /** Forgets it. */
    void forget() {
        try {
            Files.deleteIfExists(file);
        } catch (IOException e) {
            throw Refusal.failed(file + " cannot be deleted: " + e.getMessage() + ".");
        }
    }
}

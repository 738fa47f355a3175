package io.heldmark.pipeline;

import io.heldmark.config.StationSettings;
import io.heldmark.time.StationClock;
import java.nio.file.Path;

/**
 * What a station is run with.
 *
 * @param settings the effective settings.
 * @param dataDir the data folder; recordings go into {@code recordings} below it.
 * @param clock the station's time.
 * @param version version of the station, for recordings and viewers.
 * @param invented whether the data are invented (simulated), which viewers say.
 */
public record StationOptions(
        StationSettings settings, Path dataDir, StationClock clock, String version, boolean invented) {}

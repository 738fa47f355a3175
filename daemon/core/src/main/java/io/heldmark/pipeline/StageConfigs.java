package io.heldmark.pipeline;

import io.heldmark.calibrate.SessionZeroConfig;
import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.detect.DetectorConfig;

/** The settings of the station as the stages take them. */
final class StageConfigs {
    private StageConfigs() {}

    static DetectorConfig detector(StationSettings s) {
        return new DetectorConfig(
                s.number(Config.DETECT_MINIMUM_RISE_N),
                s.number(Config.DETECT_NOISE_MULTIPLE),
                s.number(Config.DETECT_MINIMUM_PEAK_N),
                s.number(Config.DETECT_MINIMUM_WIDTH_S),
                s.number(Config.DETECT_LONGEST_GAP_S),
                s.number(Config.DETECT_LONGEST_S));
    }

    static SessionZeroConfig sessionZero(StationSettings s) {
        return new SessionZeroConfig(
                s.number(Config.ZERO_WINDOW_S),
                s.number(Config.ZERO_WAIT_S),
                s.number(Config.ZERO_LIMIT_SD_N),
                s.number(Config.ZERO_LIMIT_WANDER_N),
                s.number(Config.ZERO_LIMIT_SLOPE_N_PER_S));
    }
}

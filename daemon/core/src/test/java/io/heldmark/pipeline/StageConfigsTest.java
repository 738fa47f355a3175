package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.calibrate.SessionZeroConfig;
import io.heldmark.config.Config;
import io.heldmark.detect.DetectorConfig;
import org.junit.jupiter.api.Test;

class StageConfigsTest {
    @Test
    void shouldHaveTheStagesOwnDefaults() {
        assertEquals(DetectorConfig.defaults(), StageConfigs.detector(Config.defaults()));
        assertEquals(SessionZeroConfig.defaults(), StageConfigs.sessionZero(Config.defaults()));
    }
}

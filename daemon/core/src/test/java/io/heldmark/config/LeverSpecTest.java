package io.heldmark.config;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LeverSpecTest {
    @Test
    void shouldReadArmsAndWeightsWithTheirUncertainties() {
        double unknown = Double.NaN;
        assertTrue(LeverSpec.parse("k", " ").isEmpty());
        assertEquals(
                List.of(
                        new LeverSpec("left", 0.32, 0.005, 1, 11.8, 0.6),
                        new LeverSpec("right", 0.31, unknown, 0, unknown, unknown),
                        new LeverSpec("plate-1", 2, 0.01, -1, 9, unknown)),
                LeverSpec.parse("k", "left = 0.320(0.005) + 11.8 (0.6); right=0.31;plate-1 = 2 ( 0.01 )-9"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "left",
                "=0.3",
                "1st=0.3",
                "left=",
                "left=0",
                "left=3.001",
                "left=-0.3",
                "left=0.3(",
                "left=0.3()",
                "left=0.3+",
                "left=0.3*2",
                "left=0.3+1+2",
                "left=0.3;",
                "left=0.3;left=0.4",
                "left=x"
            })
    void shouldRefuseWhatIsNoLeverNamingKeyAndValue(String text) {
        ConfigException refused =
                assertThrows(ConfigException.class, () -> Config.resolve(Map.of(), Map.of("channels.levers", text)));
        assertTrue(refused.getMessage().contains("channels.levers"), refused.getMessage());
    }

    @Test
    void shouldRefuseMoreThanSixteen() {
        StringBuilder text = new StringBuilder("n0=1");
        for (int i = 1; i < 17; i++) {
            text.append(";n").append(i).append("=1");
        }
        assertThrows(ConfigException.class, () -> LeverSpec.parse("k", text.toString()));
    }
}

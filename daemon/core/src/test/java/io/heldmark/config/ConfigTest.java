package io.heldmark.config;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class ConfigTest {
    @Test
    void shouldPutTheCommandLineOverTheFileOverTheDefaults() {
        StationSettings s = Config.resolve(
                Map.of("trace.lowPassHz", "20", "link.lostAfterS", "3"), Map.of("trace.lowPassHz", "10.5"));
        assertEquals(10.5, s.number(Config.TRACE_LOW_PASS_HZ));
        assertEquals("command line", s.source(Config.TRACE_LOW_PASS_HZ));
        assertEquals(3, s.number(Config.LINK_LOST_AFTER_S));
        assertEquals("configuration file", s.source(Config.LINK_LOST_AFTER_S));
        assertEquals("default", s.source(Config.QUEUE_CHUNKS));
    }

    @Test
    void shouldRefuseAnUnknownKeyAndNameIt() {
        ConfigException e =
                assertThrows(ConfigException.class, () -> Config.resolve(Map.of(), Map.of("trace.lowpassHz", "20")));
        assertTrue(e.getMessage().startsWith("trace.lowpassHz=20 "), e.getMessage());
    }

    @Test
    void shouldRefuseEveryValueOutOfItsRange() {
        for (Setting s : Config.all()) {
            for (String bad : badValues(s)) {
                ConfigException e = assertThrows(
                        ConfigException.class,
                        () -> Config.resolve(Map.of(), Map.of(s.key(), bad)),
                        s.key() + "=" + bad);
                assertTrue(e.getMessage().contains(s.key() + "=" + bad), e.getMessage());
                assertTrue(e.getMessage().contains(s.allowed()), e.getMessage());
            }
        }
    }

    private static List<String> badValues(Setting s) {
        return switch (s.kind()) {
            case NUMBER -> List.of("NaN", "Infinity", "", "1,5", Double.toString(s.maximum() * 1.01 + 1));
            case WHOLE -> List.of("1.5", "", "x", Long.toString((long) s.maximum() + 1));
            case SWITCH -> List.of("yes", "TRUE", "");
            case CHOICE -> List.of("", "none of them");
            case TEXT -> List.of();
        };
    }

    @Test
    void shouldRefuseABadValueInTheFileEvenBelowAGoodOne() {
        assertThrows(
                ConfigException.class,
                () -> Config.resolve(Map.of("link.lostAfterS", "-1"), Map.of("link.lostAfterS", "2")));
    }

    @Test
    void shouldRefuseValuesThatDoNotFitTogether() {
        assertThrows(
                ConfigException.class,
                () -> Config.resolve(Map.of(), Map.of("detect.minimumRiseN", "20", "detect.minimumPeakN", "10")));
    }

    @Test
    void shouldHashOnlyWhatCanChangeAResult() {
        String plain = Config.defaults().resultHash();
        assertEquals(
                plain, Config.resolve(Map.of(), Map.of("queue.chunks", "128")).resultHash());
        assertNotEquals(
                plain, Config.resolve(Map.of(), Map.of("link.lostAfterS", "2")).resultHash());
    }

    @Test
    void shouldTakeResultSettingsOfARecordingAndKeepTheRest() {
        StationSettings own = Config.resolve(Map.of(), Map.of("queue.chunks", "128", "link.lostAfterS", "2"));
        StationSettings replayed = own.withResultSettingsOf(
                Map.of("trace.lowPassHz", "12", "queue.chunks", "256", "gone.key", "1"), "recording");
        assertEquals(12, replayed.number(Config.TRACE_LOW_PASS_HZ));
        assertEquals(128, replayed.whole(Config.QUEUE_CHUNKS));
        assertEquals(1, replayed.number(Config.LINK_LOST_AFTER_S));
    }

    @Test
    void shouldReadKeysWithCommentsAndRefuseDoubles() {
        assertEquals(Map.of("a.b", "1 = 2"), ConfigFile.parse("f", List.of("# remark", "", " a.b = 1 = 2 ")));
        ConfigException e = assertThrows(ConfigException.class, () -> ConfigFile.parse("f", List.of("a = 1", "a = 2")));
        assertEquals("f:2: a stands twice", e.getMessage());
    }
}

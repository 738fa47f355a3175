package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class SnapshotTest {
    private static final long S = 1_000_000_000L;

    private final Snapshot snapshot = new Snapshot();

    private String written(long nowNs) {
        JsonOut out = new JsonOut();
        snapshot.writeTo(out, nowNs);
        return out.end();
    }

    @Test
    void shouldBeEmptyAtFirst() {
        assertEquals("{\"channels\":[],\"links\":[],\"zeros\":[],\"contractions\":[],\"efforts\":[]}", written(0));
    }

    @Test
    void shouldHoldTheNewestOfEveryKindInTheOrderOfTheirFirst() {
        snapshot.channels("{\"type\":\"channels\",\"channels\":[{\"channel\":0}]}");
        snapshot.link("a", "\"a1\"");
        snapshot.link("b", "\"b1\"");
        snapshot.link("a", "\"a2\"");
        snapshot.zero(1, "\"z1\"");
        snapshot.recording("\"r\"");
        snapshot.target("\"t\"");
        snapshot.replay("\"p\"");
        snapshot.contraction(7, 0, "\"c7 provisional\"");
        snapshot.contraction(8, 0, "\"c8\"");
        snapshot.contraction(7, 1, "\"c7 final\"");
        snapshot.effort(1, 1, "\"e1\"");
        assertEquals(
                "{\"channels\":[{\"channel\":0}],\"links\":[\"a2\",\"b1\"],\"zeros\":[\"z1\"],\"recording\":\"r\","
                        + "\"target\":\"t\",\"replay\":\"p\",\"contractions\":[\"c8\",\"c7 final\"],\"efforts\":[\"e1\"]}",
                written(1));
        snapshot.target(null);
        assertFalse(written(1).contains("target"));
    }

    @Test
    void shouldForgetContractionsOfMoreThanFiveMinutesAgo() {
        snapshot.contraction(1, 10 * S, "\"c1\"");
        snapshot.effort(1, 10 * S, "\"e1\"");
        assertTrue(written(310 * S).contains("c1"));
        assertFalse(written(310 * S + 1).contains("c1"));
        assertFalse(written(310 * S + 1).contains("e1"));
    }

    @Test
    void shouldHoldAThousandAtMost() {
        for (int i = 0; i < 1500; i++) {
            snapshot.contraction(i, i, "\"c" + i + "\"");
        }
        String json = written(1500);
        assertFalse(json.contains("\"c499\""));
        assertTrue(json.contains("\"c500\"") && json.contains("\"c1499\""));
    }

    @Test
    void shouldForgetWhatCameOfTheSamplesButNotTheRecording() {
        snapshot.channels("{\"channels\":[{\"channel\":0}]}");
        snapshot.link("a", "\"a\"");
        snapshot.contraction(7, 0, "\"c7\"");
        snapshot.target("\"t\"");
        snapshot.replay("\"p\"");
        snapshot.forgetSession();
        assertEquals(
                "{\"channels\":[],\"links\":[],\"zeros\":[],\"replay\":\"p\",\"contractions\":[],\"efforts\":[]}",
                written(0));
    }
}

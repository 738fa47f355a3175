package io.heldmark.link.stream;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class BackoffTest {
    @Test
    void shouldDoubleFromAFifthOfASecondToFiveSecondsAndStartAgain() {
        Backoff backoff = new Backoff();
        List<Long> waits = new ArrayList<>();
        for (int i = 0; i < 7; i++) {
            waits.add(backoff.nextMs());
        }
        assertEquals(List.of(200L, 400L, 800L, 1600L, 3200L, 5000L, 5000L), waits);
        backoff.reset();
        assertEquals(200L, backoff.nextMs());
    }
}

package io.heldmark.detect;

import org.junit.jupiter.api.Test;

class StatedUncertaintiesTest {
    @Test
    void shouldX() {
        long t = System.nanoTime();
        StatedUncertainties s = StatedUncertainties.gather();
        System.out.println(s.efforts + " " + s.found + " " + (System.nanoTime() - t) / 1e9 + "\n" + s.markdown());
    }
}

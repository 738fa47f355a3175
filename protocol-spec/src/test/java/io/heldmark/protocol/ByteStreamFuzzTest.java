package io.heldmark.protocol;

import com.code_intelligence.jazzer.junit.FuzzTest;

/** Replays its seeds in a normal run; {@code protocol-spec/fuzz bytes SECONDS} searches for more. */
class ByteStreamFuzzTest {
    @FuzzTest(maxDuration = "5m")
    void shouldSurviveAnything(byte[] data) {
        FuzzOracle.checkStream(ByteStreamDecoder::new, new ByteStreamEncoder(), data);
        FuzzOracle.checkCuts(AutoDecoder::new, data);
        // The fuzzer seldom finds a CRC by itself, so its bytes are also taken as frames that lack only that.
        FuzzOracle.checkStream(ByteStreamDecoder::new, new ByteStreamEncoder(), FrameSeal.seal(data));
    }
}

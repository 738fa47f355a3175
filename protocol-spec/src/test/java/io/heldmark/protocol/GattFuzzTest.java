package io.heldmark.protocol;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Replays its seeds in a normal run; {@code protocol-spec/fuzz gatt SECONDS} searches for more. */
class GattFuzzTest {
    @FuzzTest(maxDuration = "5m")
    void shouldSurviveAnything(byte[] data) {
        FuzzOracle.checkValues(GattDecoder::new, new GattEncoder(), values(data));
    }

    /** Takes bytes apart into values, each after its length as a little-endian u16, modulo 600. */
    private static List<byte[]> values(byte[] data) {
        List<byte[]> values = new ArrayList<>();
        int at = 0;
        while (at + 2 <= data.length) {
            int length = Math.min(LittleEndian.u16(data, at) % 600, data.length - at - 2);
            values.add(Arrays.copyOfRange(data, at + 2, at + 2 + length));
            at += 2 + length;
        }
        return values;
    }
}

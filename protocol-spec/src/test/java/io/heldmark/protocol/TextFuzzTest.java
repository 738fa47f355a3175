package io.heldmark.protocol;

import com.code_intelligence.jazzer.junit.DictionaryEntries;
import com.code_intelligence.jazzer.junit.FuzzTest;

/** Replays its seeds in a normal run; {@code protocol-spec/fuzz text SECONDS} searches for more. */
class TextFuzzTest {
    @DictionaryEntries({
        "S,",
        "D,1.0,id=",
        ",tickhz=",
        ",ratemhz=",
        ",model=",
        ",firmware=",
        ",caps=",
        ",rates=",
        "C,0,bits=",
        ",name=",
        ",bandwidthhz=",
        ",gain=",
        ",ratedn=",
        "K,0,zero=",
        ",slope=",
        ",u=",
        ",date=20250314",
        "E,",
        "H,",
        "R,",
        "O,",
        "Q,",
        "P,",
        "\\x0d\\x0a",
        "4294967295",
        "-2147483648",
        "e-45",
        "e+38"
    })
    @FuzzTest(maxDuration = "5m")
    void shouldSurviveAnything(byte[] data) {
        FuzzOracle.checkCuts(AutoDecoder::new, data);
        // Without checks: a line of 200 bytes that had none would not fit with one.
        FuzzOracle.checkStream(TextDecoder::new, TextEncoder.withoutChecks(), data);
    }
}

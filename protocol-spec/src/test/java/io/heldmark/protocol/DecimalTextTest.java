package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DecimalTextTest {
    /** Expected texts from {@code f32_text} in {@code vectors/gaugeline.py}, which prints with C's {@code %.9g}. */
    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "1, 1",
        "-2000, -2000",
        "0.1, 0.1",
        "0.0001, 0.0001",
        "0.00001, 1e-05",
        "16777216, 16777216",
        "999999984, 1e+09",
        "123456792, 123456790",
        "1e10, 1e+10",
        "262.5, 262.5",
        "-1.5e-7, -1.5e-07",
        "1.17549435e-38, 1.1754944e-38",
        "3.4028235e38, 3.4028235e+38",
        "1e-45, 1e-45",
        "0.00123, 0.00123",
    })
    void shouldPrintTheFewestDigitsThatGiveTheValueBack(float value, String text) {
        assertEquals(text, DecimalText.of(value));
    }

    @Test
    void shouldGiveEveryFiniteValueBack() {
        Random random = new Random(754);
        for (int i = 0; i < 50_000; i++) {
            float value = Float.intBitsToFloat(random.nextInt());
            if (Float.isFinite(value) && value != 0) {
                assertEquals(value, Float.parseFloat(DecimalText.of(value)));
            }
        }
    }
}

package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.model.Quantity;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FigureTextTest {
    /** The third form is that of GUM 7.2.2, example 2: m_S = 100.02147(35) g. */
    @ParameterizedTest
    @CsvSource({
        "512.345, 1.06, N, 512.3(1.1) N",
        "512.345, 0.106, N, 512.35(11) N",
        "100.02147, 0.00035, g, 100.02147(35) g",
        "512.345, 11.6, N, 512(12) N",
        "512.345, 0, N, 512.345 N",
        "0, 0.05, N, 0.000(50) N",
        "-8.04, 0.996, %, -8.0(1.0) %",
        "51234.5, 1234, N/s, 51235(1200) N/s",
    })
    void shouldWriteTheUncertaintyInTheLastDigits(double value, double u, String unit, String expected) {
        assertEquals(expected, FigureText.of(new Quantity(value, u, unit)));
    }
}

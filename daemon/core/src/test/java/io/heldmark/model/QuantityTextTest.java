package io.heldmark.model;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The vectors that viewer and station share; made by {@code viewer-web/vectors/make-rounding.py}. */
class QuantityTextTest {
    private static final Path VECTORS =
            Path.of(System.getProperty("heldmark.root"), "viewer-web", "vectors", "rounding.json");

    static Stream<JsonNode> vectors() throws IOException {
        return StreamSupport.stream(new JsonMapper().readTree(VECTORS.toFile()).spliterator(), false);
    }

    @ParameterizedTest
    @MethodSource("vectors")
    void shouldWriteAsTheVectorsSay(JsonNode vector) {
        Quantity quantity = new Quantity(
                vector.path("value").asDouble(),
                vector.path("standardUncertainty").asDouble(),
                vector.path("unit").asText());
        assertEquals(vector.path("text").asText(), QuantityText.of(quantity));
    }

    @Test
    void shouldHaveVectors() throws IOException {
        assertTrue(vectors().count() >= 40);
    }

    @Test
    void shouldWriteTheSmallestAndTheGreatestNumbers() {
        assertEquals("0.000000000(0.000000001)", QuantityText.of(new Quantity(Double.MIN_VALUE, Double.MIN_VALUE, "")));
        String great = QuantityText.of(new Quantity(-Double.MAX_VALUE, Double.MAX_VALUE, ""));
        assertTrue(great.startsWith("\u221218") && great.length() == 1 + 309 + 1 + 309 + 1, great);
    }

    @Test
    void shouldRefuseAValueThatClaimsToBeExact() {
        assertThrows(IllegalArgumentException.class, () -> QuantityText.of(new Quantity(1, 0, "N")));
    }
}

package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.annotation.JsonCreator;
import com.fasterxml.jackson.databind.JsonNode;
import io.heldmark.simulator.math.SeededRandom;

/**
 * A number, or the ends of a range to draw it from.
 *
 * @param low least value.
 * @param high greatest value, not less than {@code low}.
 */
public record Range(double low, double high) {
    /** Rejects ends in the wrong order. */
    public Range {
        if (!(low <= high)) {
            throw new IllegalArgumentException(
                    "range [" + low + ", " + high + "]: the first must not exceed the second");
        }
    }

    /** Reads a number or {@code [low, high]}, both checked by the schema before. */
    @JsonCreator
    static Range of(JsonNode node) {
        return node.isArray()
                ? new Range(node.get(0).doubleValue(), node.get(1).doubleValue())
                : new Range(node.doubleValue(), node.doubleValue());
    }

    /** Draws a value, uniform; draws a number in every case, so that a fixed value moves no other. */
    public double draw(SeededRandom random) {
        return random.between(low, high);
    }

    /** Draws a whole value, both ends included. */
    public int drawWhole(SeededRandom random) {
        return random.between((int) low, (int) high);
    }
}

package io.heldmark.cells;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Reads members of a request strictly; what is wrong is said by name and range. */
final class Members {
    private final ObjectNode body;

    Members(ObjectNode body) {
        this.body = body;
    }

    /** Returns a line of text without control characters; empty where it is missing. */
    String text(String name, int most) {
        JsonNode node = body.path(name);
        String text = node.isMissingNode() ? "" : node.asText().strip();
        if (!(node.isMissingNode() || node.isTextual())
                || text.length() > most
                || text.chars().anyMatch(c -> c < ' ')) {
            throw Refusal.bad(name + " is one line of at most " + most + " characters.");
        }
        return text;
    }

    /** Returns a number, or a default where it is missing. */
    double number(String name, double least, double most, double otherwise) {
        Double value = optional(name, least, most);
        return value == null ? otherwise : value;
    }

    /** Returns a number; absent where it is missing. */
    @Nullable Double optional(String name, double least, double most) {
        JsonNode node = body.path(name);
        if (node.isMissingNode()) {
            return null;
        }
        double value = node.doubleValue();
        if (!node.isNumber() || !(value >= least && value <= most)) {
            throw Refusal.bad(name + " is a number from " + plain(least) + " to " + plain(most) + ".");
        }
        return value;
    }

    /** Returns a whole number, or a default where it is missing. */
    int whole(String name, int least, int most, int otherwise) {
        double value = number(name, least, most, otherwise);
        if (value != Math.rint(value)) {
            throw Refusal.bad(name + " is a whole number from " + least + " to " + most + ".");
        }
        return (int) value;
    }

    /** Returns true or false, or a default where it is missing. */
    boolean flag(String name, boolean otherwise) {
        JsonNode node = body.path(name);
        if (!node.isMissingNode() && !node.isBoolean()) {
            throw Refusal.bad(name + " is true or false.");
        }
        return node.asBoolean(otherwise);
    }

    private static String plain(double value) {
        return value == Math.rint(value) ? String.format(Locale.ROOT, "%.0f", value) : String.valueOf(value);
    }
}

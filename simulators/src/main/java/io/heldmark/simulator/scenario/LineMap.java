package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.util.HashMap;
import java.util.Map;

/** Knows on which line of a YAML text each value stands, so that an error can name it. */
final class LineMap {
    private final Map<String, Integer> lines = new HashMap<>();

    /**
     * Reads the text once.
     *
     * @throws IOException if it is not YAML.
     */
    LineMap(YAMLFactory factory, String yaml) throws IOException {
        try (JsonParser parser = factory.createParser(yaml)) {
            for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
                // A key and its value have the same pointer; the key comes first and is the better place.
                String pointer = parser.getParsingContext().pathAsPointer().toString();
                lines.putIfAbsent(pointer, parser.currentTokenLocation().getLineNr());
            }
        }
    }

    /** Returns the line of a value, or of the nearest value around it that the text holds. */
    int lineOf(JsonPointer pointer) {
        JsonPointer place = pointer;
        while (place != null && !place.matches()) {
            Integer line = lines.get(place.toString());
            if (line != null) {
                return line;
            }
            place = place.head();
        }
        return 1;
    }
}

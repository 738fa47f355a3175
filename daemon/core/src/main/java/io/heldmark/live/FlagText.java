package io.heldmark.live;

import java.util.Map;

/** What the flags of a contraction mean, in a sentence for people. */
final class FlagText {
    private static final Map<String, String> TEXTS = Map.of(
            "gap-inside", "Samples are missing inside the contraction.",
            "overload", "The converter reached the end of its range.");

    private FlagText() {}

    static String of(String id) {
        return TEXTS.getOrDefault(id, id.replace('-', ' '));
    }
}

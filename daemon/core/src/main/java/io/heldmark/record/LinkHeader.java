package io.heldmark.record;

/**
 * What a recording says about one link before its first byte.
 *
 * @param name the link as the user wrote it, for example {@code serial:/dev/ttyUSB0?baud=115200}.
 * @param binding name of the {@link io.heldmark.link.Link.Binding} that the user asked for, for example {@code AUTO}.
 * @param factsJson a JSON object with everything else that can change a result (limb, station calibration and its
 *     uncertainty); {@code {}} where there is nothing to say.
 */
public record LinkHeader(String name, String binding, String factsJson) {
    /**
     * Checks the facts.
     *
     * @throws IllegalArgumentException if the facts are not a JSON object or the whole does not fit into one option.
     */
    public LinkHeader {
        RecordingFacts.requireObject("factsJson", factsJson);
        RecordingFacts.requireShort("name", name);
        RecordingFacts.requireShort("binding", binding);
    }
}

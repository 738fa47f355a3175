package io.heldmark.conform;

import io.heldmark.protocol.Describe;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a run found.
 *
 * @param binding binding that the device spoke: {@code bytes}, {@code text}, {@code gatt}, or {@code unknown}.
 * @param describe what the device says of itself; null where it never did.
 * @param lengthS length of the run, in seconds.
 * @param bytes bytes that came.
 * @param messages well-formed messages that came.
 * @param broke why the run ended before its end; empty where it did not.
 * @param results what there is to say of each rule, in their order.
 */
public record Report(
        String binding,
        @Nullable Describe describe,
        double lengthS,
        long bytes,
        long messages,
        String broke,
        List<RuleResult> results) {
    /** Copies the results. */
    public Report {
        results = List.copyOf(results);
    }

    /** Returns how many rules came out so. */
    public long count(Outcome outcome) {
        return results.stream().filter(result -> result.outcome() == outcome).count();
    }

    /** Returns whether the device conforms as far as it was seen: no rule failed, and the run came to its end. */
    public boolean conforms() {
        return count(Outcome.FAIL) == 0 && broke.isEmpty();
    }
}

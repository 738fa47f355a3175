package io.heldmark.conform;

import java.util.List;

/**
 * What a run says of one rule.
 *
 * @param rule the rule.
 * @param outcome the verdict.
 * @param seen how often it was put to the test.
 * @param broken how often it was broken.
 * @param text what was seen, in one sentence.
 * @param evidence the first messages that prove it: of the breaches, or where there are none of what held.
 */
public record RuleResult(Rule rule, Outcome outcome, long seen, long broken, String text, List<Evidence> evidence) {
    /** Copies the evidence. */
    public RuleResult {
        evidence = List.copyOf(evidence);
    }
}

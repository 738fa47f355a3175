package io.heldmark.conform;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/** Keeps, for each rule, how often it held and was broken, with the first messages that prove it. */
final class Ledger {
    private static final int MOST_EVIDENCE = 3;

    private final Map<Rule, Entry> entries = new EnumMap<>(Rule.class);

    private static final class Entry {
        long held;
        long broken;
        boolean advice;
        String words = "";
        final List<Evidence> breaches = new ArrayList<>();
        final List<Evidence> proofs = new ArrayList<>();
    }

    /** Notes that a rule held once, and the messages that show it. */
    void holds(Rule rule, Evidence... proof) {
        Entry entry = entry(rule);
        entry.held++;
        if (entry.proofs.isEmpty()) {
            entry.proofs.addAll(List.of(proof));
        }
    }

    /** Says what was seen of a rule that holds; a breach says more and wins. */
    void says(Rule rule, String words) {
        Entry entry = entry(rule);
        if (entry.broken == 0) {
            entry.words = words;
        }
    }

    /** Notes a breach; the words of the first one are kept. */
    void broken(Rule rule, String words, Evidence... proof) {
        Entry entry = entry(rule);
        if (entry.broken++ == 0) {
            entry.words = words;
        }
        for (Evidence one : proof) {
            if (entry.breaches.size() < MOST_EVIDENCE) {
                entry.breaches.add(one);
            }
        }
    }

    /** Notes that advice is not taken. */
    void advises(Rule rule, String words, Evidence... proof) {
        broken(rule, words, proof);
        entry(rule).advice = true;
    }

    /** Returns whether a rule was broken. */
    boolean isBroken(Rule rule) {
        return entry(rule).broken > 0;
    }

    /** Returns what there is to say of every rule, in the order of the rules. */
    List<RuleResult> results() {
        List<RuleResult> results = new ArrayList<>();
        for (Rule rule : Rule.values()) {
            Entry entry = entry(rule);
            long seen = entry.held + entry.broken;
            Outcome outcome = Outcome.PASS;
            String words = entry.words;
            if (entry.broken > 0) {
                outcome = entry.advice ? Outcome.ADVICE : Outcome.FAIL;
            } else if (entry.held == 0) {
                outcome = Outcome.NOT_SEEN;
                words = words.isEmpty() ? rule.otherwise() : words;
            }
            List<Evidence> evidence = entry.broken > 0 ? entry.breaches : entry.proofs;
            results.add(new RuleResult(rule, outcome, seen, entry.broken, words, evidence));
        }
        return results;
    }

    private Entry entry(Rule rule) {
        return entries.computeIfAbsent(rule, unused -> new Entry());
    }
}

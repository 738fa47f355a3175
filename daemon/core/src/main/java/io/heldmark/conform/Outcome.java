package io.heldmark.conform;

/** What a run says of a rule. */
public enum Outcome {
    /** It was put to the test and held. */
    PASS("pass"),
    /** It was broken at least once. */
    FAIL("fail"),
    /** Advice of the specification (<em>should</em>) that the device does not take; it conforms all the same. */
    ADVICE("advice"),
    /** Nothing in this run put it to the test. */
    NOT_SEEN("not seen");

    private final String words;

    Outcome(String words) {
        this.words = words;
    }

    /** Returns it as people read it. */
    public String words() {
        return words;
    }
}

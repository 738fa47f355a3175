package io.heldmark.metric;

/** What the documentation says of every rate of force development. */
final class RateWords {
    static final String NOT_COMPUTED = "Refused, with the reason, unless the conditions for rates (above) hold.";

    private RateWords() {}
}

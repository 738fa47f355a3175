package io.heldmark.metric;

/** What the documentation says of every rate of force development. */
final class RateWords {
    static final String NOT_COMPUTED =
            "Refused unless the plan's cue is explosive, its fixation rigid (never hand-held; a"
                    + " strap only once its stiffness was checked), the converter's bandwidth known, the peak at least 80 % of the"
                    + " person's own maximum, the 200 ms before the onset whole and steady without tension or dip, the onset known,"
                    + " the rise at least 200 N/s over 100 ms, and the rate at least 1000 samples/s for spans up to 100 ms, 500 beyond."
                    + " Without a plan what nobody said is passed over and the contraction is flagged `conditions-unknown`.";

    private RateWords() {}
}

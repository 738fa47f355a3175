package io.heldmark.model;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;

/**
 * What a reader must know about a contraction, as a stable word and as a sentence for people.
 *
 * <p>Contractions carry the {@link #id()}; whoever shows them adds the {@link #text()}.
 */
public enum ContractionFlag {
    /** No session zero. */
    NO_ZERO("no-zero", "No session zero was taken: forces are relative to the cell's own zero."),
    /** Calibration not known. */
    CALIBRATION_UNKNOWN(
            "calibration-unknown",
            "The uncertainty of the calibration is not known: stated uncertainties cover noise, resolution and timing only."),
    /** Resting level away from zero. */
    RESTING_LEVEL_OFF_ZERO(
            "resting-level-off-zero",
            "The force right before the contraction was farther from zero than 5 N or 2 % of the best: take the zero again."),
    /** The rest before was not steady. */
    BASELINE_UNSTABLE(
            "baseline-unstable",
            "The force was not steady in the 200 ms before the contraction: the onset is less certain."),
    /** The onset is not known well enough for rates of force development. */
    ONSET_UNCERTAIN(
            "onset-uncertain",
            "The onset is uncertain by more than 10 ms (95 %): no rate of force development can be given from it."),
    /** Not an explosive effort. */
    SLOW_RISE(
            "slow-rise",
            "The force never rose faster than 1.4 of its peak per second: a ramp, whose onset and rate of force development"
                    + " mean little."),
    /** The zero comes from longer ago. */
    BASELINE_DISTANT(
            "baseline-distant",
            "No quiet rest lay right before the contraction: its zero is the nearest quiet 200 ms before it."),
    /** No rest is known. */
    NO_BASELINE(
            "no-baseline",
            "No quiet rest of 200 ms came before the contraction: forces are relative to the zero as recorded, and nothing"
                    + " that counts from the onset is computed."),
    /** Force was already on. */
    PRE_TENSION("pre-tension", "There was already tension before the contraction: onset and early force are affected."),
    /** Force fell before it rose. */
    COUNTERMOVEMENT("countermovement", "The force dipped right before it rose."),
    /** Two efforts in one window. */
    DOUBLE_EFFORT(
            "double-effort", "The force fell and rose again without a return to rest: two efforts in one window."),
    /** Samples missing inside. */
    GAP_INSIDE("gap-inside", "Samples are missing inside the contraction; nothing was filled in."),
    /** The onset itself was not seen. */
    ONSET_NOT_SEEN("onset-not-seen", "The onset lies in a gap: the window begins with the first sample after it."),
    /** Cut by a gap. */
    SAMPLES_LOST("samples-lost", "The contraction was cut short by missing samples: its end was not seen."),
    /** Converter at its limit. */
    OVERLOAD("overload", "The converter reached the end of its range: the true force was higher."),
    /** Converter fault. */
    ADC_FAULT("adc-fault", "The converter reported a fault during the contraction."),
    /** Clock restarted. */
    CLOCK_RESTARTED(
            "clock-restarted", "The device's clock was restarted during the contraction: durations are less certain."),
    /** Resampled. */
    RESAMPLED("resampled", "The trace was resampled from channels of different devices."),
    /** Too long. */
    MAXIMUM_LENGTH("maximum-length", "The contraction was longer than a window may be and was cut there."),
    /** No return to the resting level. */
    RESTING_LEVEL_CHANGED(
            "resting-level-changed", "The force did not come back to the resting level: the end is where it settled."),
    /** Next effort began before rest. */
    NOT_BACK_TO_REST(
            "not-back-to-rest",
            "The next effort began before the force was back at rest: the end is the lowest point."),
    /** Not held. */
    NO_PLATEAU("no-plateau", "The force was not held near its peak: there is no plateau."),
    /** A spike. */
    JERK("jerk", "A spike stands above the plateau: a jerk, and the peak is the spike's."),
    /** The catch of a fall. */
    CATCH_SPIKE(
            "catch-spike",
            "After the break of the lowering there was a brief impact, the catch of the fall, which is no part of it. Where it lies"
                    + " before the end, peak and impulse may hold it: move the end to before it."),
    /** Let go too soon. */
    EARLY_RELEASE("early-release", "Let go before the hold was over."),
    /** Too few samples a second. */
    RATE_TOO_LOW(
            "rate-too-low",
            "The sample rate is too low for rates of force development: 1,000 samples/s are needed up to 100 ms, 500 beyond."),
    /** Clock not aligned. */
    ALIGNMENT_UNCERTAIN(
            "alignment-uncertain",
            "The device's clock is not well aligned: instants cannot be compared with another device's."),
    /** Load above the calibration. */
    BEYOND_RANGE(
            "beyond-calibrated-range",
            "The load was higher than any of the calibration: the stated uncertainty has grown with it."),
    /** Nobody said what was asked for. */
    CONDITIONS_UNKNOWN(
            "conditions-unknown",
            "Nobody said how the person was told to push, nor what held the limb: rates of force development are stated"
                    + " because the trace qualifies."),
    /** Best two too far apart. */
    TRIAL_SPREAD("trial-spread", "The best two trials of this limb differ by more than 10 %: one more is worth while."),
    /** Withdrawn: a step. */
    STEP("handling-step", "A step without a build-up of force: handling, not a contraction."),
    /** Withdrawn: a weight. */
    STILL("handling-still", "As still as a weight, which muscle never is: a limb laid down, not a contraction."),
    /** Withdrawn: too brief. */
    TOO_BRIEF("handling-brief", "Too brief for a contraction: a bump or a twitch."),
    /** Withdrawn: too weak. */
    TOO_WEAK("too-weak", "The force never rose far enough above rest to be measured.");

    private static final String PEAK = "force.peak";

    private final String id;
    private final String text;

    ContractionFlag(String id, String text) {
        this.id = id;
        this.text = text;
    }

    /** Returns the stable word, for example {@code gap-inside}. */
    public String id() {
        return id;
    }

    /** Returns the sentence for people. */
    public String text() {
        return text;
    }

    /**
     * Returns the sentence of a contraction's flag, with the figures of that contraction where the flag has any: how far the
     * load went beyond the calibration. The word itself where it is not known.
     */
    public static String textOf(String id, Contraction c) {
        Quantity peak = c.quantity(PEAK);
        return id.equals(BEYOND_RANGE.id) && c.calibratedToN() > 0 && peak != null
                ? textOf(id)
                        + String.format(
                                Locale.ROOT,
                                " Calibrated to %.0f N, read %.0f N above the zero.",
                                c.calibratedToN(),
                                peak.value())
                : textOf(id);
    }

    /** Returns the stable words of flags, in their order. */
    public static List<String> ids(Collection<ContractionFlag> flags) {
        List<String> ids = new ArrayList<>(flags.size());
        for (ContractionFlag flag : flags) {
            ids.add(flag.id);
        }
        return ids;
    }

    /** Returns the sentence that belongs to a stable word, or the word itself where it is not known. */
    public static String textOf(String id) {
        for (ContractionFlag flag : values()) {
            if (flag.id.equals(id)) {
                return flag.text;
            }
        }
        return id;
    }
}

package io.heldmark.metric;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Reasons for which nothing can be said of the first milliseconds after the onset.
 *
 * <p>Samples must have been seen from right before the onset up to the end of the span without a gap, and the contraction must
 * last that long.
 */
final class Early {
    private Early() {}

    /** Returns the reason, or nothing where the span can be used. */
    static @Nullable String refused(Trace t, long spanNs) {
        int first = t.onsetIndex();
        if (first == 0) {
            return "nothing was recorded before the onset";
        }
        long endNs = t.onsetNs() + spanNs;
        if (endNs > t.offsetNs()) {
            return String.format(
                    Locale.ROOT, "the contraction lasts %.2f s, shorter than %s", t.lengthS(), span(spanNs));
        }
        int last = t.after(endNs);
        if (last >= t.size() || t.missingBetween(first, last)) {
            return "samples are missing in the first " + span(spanNs);
        }
        return null;
    }

    /** Returns milliseconds as nanoseconds; refuses what is not 1 to 10,000. */
    static long spanNs(int ms) {
        if (ms < 1 || ms > 10_000) {
            throw new IllegalArgumentException("ms is 1 to 10000: ms=" + ms);
        }
        return ms * 1_000_000L;
    }

    /** Writes a span for people. */
    static String span(long spanNs) {
        return spanNs / 1_000_000 + " ms";
    }
}

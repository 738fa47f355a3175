package io.heldmark.conform;

import io.heldmark.protocol.Describe;
import java.util.Locale;

/**
 * Judges spacing, rates and promptness of a stretch of samples messages.
 *
 * <p><b>Method.</b> The period in ticks is the median over neighbouring messages. A step that differs from it by more than
 * three quarters of a period is a hole or a jump. The longest unbroken run is fitted by least squares, arrival against tick;
 * its slope is the length of a tick, its residuals say how uncertain that is: three times their standard deviation over the
 * length of the run is added to the tolerance. Lateness is the distance above the earliest arrival of the run, so that a
 * constant delay of the link does not count; one message in a hundred may be late, because this computer may be.
 *
 * <p><b>Source.</b> Bounds: {@code protocol-spec/gaugeline-v1.md}, section "Timing". The tolerances of 1 % and 10 % and the
 * shares are common practice, no published source.
 */
final class SegmentJudge {
    private static final int FEWEST = 20;
    private static final double SHORTEST_RUN_S = 2;
    private static final double STEP_SHARE = 0.75;
    private static final double TICK_TOLERANCE = 0.01;
    private static final double RATE_TOLERANCE = 0.1;
    private static final double LONGEST_SPAN_S = 0.05;
    private static final double LATEST_S = 0.05;
    private static final double LATE_SHARE = 0.01;
    private static final double MOST_OF_LINE = 0.8;

    private final StreamSegment segment;
    private final Describe describe;
    private final Options options;
    private final Ledger ledger;
    private final double period;
    private int from;
    private int to;
    private double tickS;
    private double openShare;

    private SegmentJudge(StreamSegment segment, Describe describe, Options options, Ledger ledger) {
        this.segment = segment;
        this.describe = describe;
        this.options = options;
        this.ledger = ledger;
        period = segment.ticksPerSample();
    }

    /** Notes the verdicts on a stretch in the ledger; nothing where it is too short. */
    static void judge(StreamSegment segment, Describe describe, Options options, Ledger ledger) {
        if (segment.size() < FEWEST) {
            return;
        }
        SegmentJudge judge = new SegmentJudge(segment, describe, options, ledger);
        if (judge.period > 0) {
            judge.judgeSteps();
            judge.judgeLongestRun();
        }
    }

    private void judgeSteps() {
        double allowed = Math.max(STEP_SHARE * period, 1.5);
        for (int i = 1; i < segment.size(); i++) {
            if (segment.isCut(i)) {
                continue;
            }
            double expected = period * segment.count(i - 1);
            double off = segment.tick(i) - segment.tick(i - 1) - expected;
            if (Math.abs(off) <= allowed) {
                ledger.holds(Rule.TICK_STEPS);
            } else if (off > 0 && segment.isMarked(i)) {
                ledger.holds(Rule.TICK_STEPS, segment.evidence(i));
                segment.cutBefore(i);
            } else {
                ledger.broken(
                        Rule.TICK_STEPS,
                        words(
                                "the tick moved by %.0f where %.0f were due, and no loss is marked",
                                expected + off, expected),
                        segment.evidence(i - 1),
                        segment.evidence(i));
                segment.cutBefore(i);
            }
        }
        ledger.says(Rule.TICK_STEPS, words("%.1f ticks a sample", period));
    }

    private void judgeLongestRun() {
        findLongestRun();
        double spanS = (segment.arrivalNs(to) - segment.arrivalNs(from)) * 1e-9;
        if (to - from + 1 < FEWEST || spanS < SHORTEST_RUN_S) {
            return;
        }
        fit(spanS);
        judgeRates();
        judgeSpan();
        judgeLateness();
        judgeHeadroom(spanS);
    }

    private void findLongestRun() {
        int start = 0;
        for (int i = 1; i <= segment.size(); i++) {
            if (i == segment.size() || segment.isCut(i)) {
                if (i - 1 - start > to - from) {
                    from = start;
                    to = i - 1;
                }
                start = i;
            }
        }
    }

    /** Least squares of arrival (seconds) against tick. */
    private void fit(double spanS) {
        int n = to - from + 1;
        double meanTick = 0;
        double meanS = 0;
        for (int i = from; i <= to; i++) {
            meanTick += (segment.tick(i) - segment.tick(from)) / (double) n;
            meanS += (segment.arrivalNs(i) - segment.arrivalNs(from)) * 1e-9 / n;
        }
        double sxx = 0;
        double sxy = 0;
        double syy = 0;
        for (int i = from; i <= to; i++) {
            double x = segment.tick(i) - segment.tick(from) - meanTick;
            double y = (segment.arrivalNs(i) - segment.arrivalNs(from)) * 1e-9 - meanS;
            sxx += x * x;
            sxy += x * y;
            syy += y * y;
        }
        tickS = sxy / sxx;
        double residual = Math.sqrt(Math.max(0, syy - sxy * tickS) / (n - 2));
        openShare = 3 * residual / spanS;
    }

    private void judgeRates() {
        double tickHz = 1 / tickS;
        double tickOff = tickHz / describe.tickRateHz() - 1;
        String ticks = words("%.1f Hz measured, %d Hz stated (%+.3f %%)", tickHz, describe.tickRateHz(), 100 * tickOff);
        note(Rule.TICK_RATE, Math.abs(tickOff) <= TICK_TOLERANCE + openShare, ticks);
        double rateHz = 1 / (period * tickS);
        double rateOff = rateHz / describe.sampleRateHz() - 1;
        String rates =
                words("%.3f Hz measured, %.3f Hz stated (%+.2f %%)", rateHz, describe.sampleRateHz(), 100 * rateOff);
        note(Rule.SAMPLE_RATE, Math.abs(rateOff) <= RATE_TOLERANCE + openShare, rates);
    }

    private void judgeSpan() {
        int longest = from;
        for (int i = from; i <= to; i++) {
            longest = segment.count(i) > segment.count(longest) ? i : longest;
        }
        double spanS = (segment.count(longest) - 1) * period * tickS;
        String text = words("the longest spans %.1f ms", 1000 * spanS);
        // The period is measured: a sender at exactly the bound must not fail by its last digit.
        if (spanS <= LONGEST_SPAN_S * 1.02) {
            ledger.holds(Rule.SAMPLES_SPAN);
            ledger.says(Rule.SAMPLES_SPAN, text);
        } else {
            ledger.broken(Rule.SAMPLES_SPAN, text, segment.evidence(longest));
        }
    }

    private void judgeLateness() {
        double earliest = Double.POSITIVE_INFINITY;
        for (int i = from; i <= to; i++) {
            earliest = Math.min(earliest, delayS(i));
        }
        int late = 0;
        int latest = from;
        for (int i = from; i <= to; i++) {
            late += delayS(i) - earliest > LATEST_S + options.allowanceS() ? 1 : 0;
            latest = delayS(i) > delayS(latest) ? i : latest;
        }
        String text = words(
                "%d of %d came later than %.0f ms after the promptest; the latest %.0f ms",
                late, to - from + 1, 1000 * (LATEST_S + options.allowanceS()), 1000 * (delayS(latest) - earliest));
        if (late <= LATE_SHARE * (to - from + 1)) {
            ledger.holds(Rule.SAMPLES_PROMPT);
            ledger.says(Rule.SAMPLES_PROMPT, text);
        } else {
            ledger.broken(Rule.SAMPLES_PROMPT, text, segment.evidence(latest));
        }
    }

    private double delayS(int i) {
        double lastTick = segment.tick(i) - segment.tick(from) + (segment.count(i) - 1) * period;
        return (segment.arrivalNs(i) - segment.arrivalNs(from)) * 1e-9 - lastTick * tickS;
    }

    private void judgeHeadroom(double spanS) {
        if (options.baud() == 0) {
            return;
        }
        long bytes = 0;
        for (int i = from + 1; i <= to; i++) {
            bytes += segment.length(i);
        }
        double share = bytes / spanS / (options.baud() / 10.0);
        String text = words("samples take %.0f %% of %d baud", 100 * share, options.baud());
        if (share <= MOST_OF_LINE) {
            ledger.holds(Rule.HEADROOM);
            ledger.says(Rule.HEADROOM, text);
        } else {
            ledger.advises(Rule.HEADROOM, text, segment.evidence(to));
        }
    }

    private void note(Rule rule, boolean holds, String text) {
        if (holds) {
            ledger.holds(rule, segment.evidence(from));
            ledger.says(rule, text);
        } else {
            ledger.broken(rule, text, segment.evidence(from), segment.evidence(to));
        }
    }

    private static String words(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}

package io.heldmark.cell;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * What of a cell is not as it should be, and what to do about it.
 *
 * <p>The limits are common practice, no published source: they tell a sound bridge on a sound cable from the usual faults
 * of wiring; they judge nothing that a person is told of a trial.
 *
 * @param id word for programs.
 * @param text for people: what is seen, and what to do.
 */
public record CellAdvice(String id, String text) {
    private static final double HUM_SHARE = 0.5;
    private static final double COARSE_SHARE = 1 / 1000.0;
    private static final double DRIFT_SHARE_A_MINUTE = 0.5 / 1000;
    private static final double LEAST_EXPLAINED = 0.8;
    private static final double BUNCHED = 3;
    private static final long LATENCY_TIMER_FROM_NS = 12_000_000;
    private static final long LATENCY_TIMER_TO_NS = 20_000_000;
    private static final long LONG_DELAY_NS = 200_000_000;

    /**
     * Returns what is to be said, the most urgent first; nothing where all is well.
     *
     * @param report the cell's report.
     * @param link health of its link; absent where not known yet.
     */
    public static List<CellAdvice> of(CellReport report, @Nullable LinkHealth link) {
        List<CellAdvice> out = new ArrayList<>();
        range(report, out);
        NoiseFigures noise = report.noise();
        if (noise != null) {
            if (noise.moved()) {
                out.add(new CellAdvice(
                        "moved", "The cell is loaded or moved: leave it alone for 10 s to judge noise and drift."));
            } else {
                noise(report, noise, out);
            }
        }
        arrivals(report, link, out);
        return out;
    }

    private static void range(CellReport report, List<CellAdvice> out) {
        if (report.range().overloaded() > 0) {
            out.add(new CellAdvice(
                    "overloaded",
                    report.range().overloaded()
                            + " samples at the end of the converter's range: lower the gain, take the preload away, or"
                            + " look for a broken bridge wire, which drives the input to its end."));
        }
    }

    private static void noise(CellReport report, NoiseFigures noise, List<CellAdvice> out) {
        ChannelInfo channel = report.channel();
        if (noise.rms() < NoiseFigures.STILL_COUNTS) {
            out.add(new CellAdvice(
                    "still",
                    "The counts do not move at all: check that the bridge is connected and the gain is high enough."));
            return;
        }
        hum(report, noise, out);
        double ratedCounts = channel.ratedLoadN() / channel.resolution();
        if (channel.unit().equals("N") && channel.ratedLoadN() > 0) {
            if (noise.noiseFreeCounts() > COARSE_SHARE * ratedCounts) {
                out.add(new CellAdvice(
                        "noisy",
                        text(
                                "Only %.0f noise-free steps over the rated load: check the shield, the ground and the"
                                        + " excitation, shorten the cable, or use more gain.",
                                ratedCounts / noise.noiseFreeCounts())));
            }
            Drift drift = report.drift();
            boolean steady = drift.explained() > LEAST_EXPLAINED; // else it was loaded meanwhile
            if (steady && Math.abs(drift.countsPerMinute()) > DRIFT_SHARE_A_MINUTE * ratedCounts) {
                out.add(new CellAdvice(
                        "drifting",
                        text(
                                "It drifts by %.2g N a minute: let it warm up for 20 minutes; then look for an unstable"
                                        + " excitation, draught or sun on the cell, or a bolt that settles.",
                                drift.countsPerMinute() * channel.resolution())));
            }
        }
    }

    private static void hum(CellReport report, NoiseFigures noise, List<CellAdvice> out) {
        CellReport.Spectrum spectrum = report.spectrum();
        if (spectrum == null) {
            return;
        }
        double power = 0;
        int mainsHz = 0;
        double strongest = 0;
        for (HumPeak peak : spectrum.hum()) {
            power += peak.rms() * peak.rms();
            if (peak.rms() > strongest) {
                strongest = peak.rms();
                mainsHz = peak.mainsHz();
            }
        }
        if (Math.sqrt(power) > HUM_SHARE * noise.rms()) {
            out.add(new CellAdvice(
                    "hum",
                    "Hum of the " + mainsHz + " Hz mains is a large part of the noise: connect the shield at the"
                            + " amplifier only, twist signal and excitation pairs, keep away from mains leads; choose a"
                            + " converter rate that rejects the mains, or set trace.notchHz."));
        }
    }

    private static void arrivals(CellReport report, @Nullable LinkHealth link, List<CellAdvice> out) {
        Distribution intervals = report.arrivals().intervals();
        boolean timer = intervals.p95Ns() >= LATENCY_TIMER_FROM_NS && intervals.p95Ns() <= LATENCY_TIMER_TO_NS;
        boolean serial = report.channel().link().startsWith("serial:");
        if (serial && timer && intervals.p95Ns() > BUNCHED * Math.max(1, intervals.p50Ns())) {
            out.add(new CellAdvice(
                    "bunched",
                    "Messages arrive in bunches every 16 ms, as USB adapters with a latency timer hand them over: set"
                            + " the adapter's latency timer to 1 ms."));
        }
        if (report.arrivals().delays().p99Ns() > LONG_DELAY_NS) {
            out.add(new CellAdvice(
                    "late",
                    text(
                            "One message in a hundred arrives %.0f ms late: the link is at its limit; lower the rate, or"
                                    + " bring the cell nearer.",
                            report.arrivals().delays().p99Ns() * 1e-6)));
        }
        if (link != null && link.lostSamples() > 0) {
            out.add(new CellAdvice(
                    "lossy",
                    link.lostSamples() + " samples were lost on the way: see the link's counters; use a slower rate, a"
                            + " shorter cable or a nearer place."));
        }
    }

    private static String text(String format, double value) {
        return String.format(Locale.ROOT, format, value);
    }
}

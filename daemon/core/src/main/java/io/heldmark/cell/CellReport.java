package io.heldmark.cell;

import io.heldmark.model.ChannelInfo;
import java.util.Arrays;
import java.util.List;
import java.util.stream.DoubleStream;
import org.jspecify.annotations.Nullable;

/**
 * What can be said of one cell now, in counts; {@link #unitPerCount} turns them into newtons.
 *
 * @param channel the channel.
 * @param range how far the counts have gone since the channel is known.
 * @param noise of the newest stretch without a gap, or of the part of it in which the cell was left alone; absent before
 *     half a second of it.
 * @param spectrum of the same stretch; absent before two seconds of it.
 * @param drift over at most half an hour.
 * @param arrivals how messages arrive.
 */
public record CellReport(
        ChannelInfo channel,
        Range range,
        @Nullable NoiseFigures noise,
        @Nullable Spectrum spectrum,
        Drift drift,
        Arrivals arrivals) {
    private static final int LONGEST_SEGMENT = 1024;

    /**
     * How far the counts have gone.
     *
     * @param samples samples so far.
     * @param newest the newest.
     * @param lowest the lowest so far.
     * @param highest the highest so far.
     * @param overloaded samples of messages in which the converter reached the end of its range.
     */
    public record Range(long samples, int newest, int lowest, int highest, long overloaded) {
        static final Range NONE = new Range(0, 0, 0, 0, 0);
    }

    /**
     * A power spectral density.
     *
     * @param stepHz distance of its frequencies; the first is 0.
     * @param density counts squared per hertz.
     * @param hum lines of the mains.
     */
    public record Spectrum(double stepHz, List<Double> density, List<HumPeak> hum) {}

    /**
     * How messages arrive.
     *
     * @param messages how many so far.
     * @param intervals times between two arrivals.
     * @param delays from the newest sample of a message to its arrival, as the clocks are aligned.
     */
    public record Arrivals(long messages, Distribution intervals, Distribution delays) {}

    static CellReport of(ChannelInfo channel, double[] stretch, double[] secondMeans, Range range, Arrivals arrivals) {
        double rateHz = channel.sampleRateHz();
        return new CellReport(
                channel, range, noise(stretch, rateHz), spectrum(stretch, rateHz), Drift.of(secondMeans), arrivals);
    }

    /** Of the whole stretch or, where the cell was moved within it, of the newest half, quarter or eighth that was not. */
    private static @Nullable NoiseFigures noise(double[] stretch, double rateHz) {
        double fewest = Math.max(3, rateHz / 2);
        NoiseFigures whole = stretch.length >= fewest ? NoiseFigures.of(stretch) : null;
        NoiseFigures part = whole;
        for (int n = stretch.length / 2; part != null && part.moved() && n >= fewest; n /= 2) {
            part = NoiseFigures.of(Arrays.copyOfRange(stretch, stretch.length - n, stretch.length));
        }
        return part == null || part.moved() ? whole : part;
    }

    private static @Nullable Spectrum spectrum(double[] stretch, double rateHz) {
        if (stretch.length < 2 * rateHz) {
            return null;
        }
        int segment = Math.min(LONGEST_SEGMENT, Integer.highestOneBit(stretch.length / 5));
        if (segment < 8) {
            return null;
        }
        double[] density = new Welch(segment).density(stretch, rateHz);
        double stepHz = rateHz / segment;
        return new Spectrum(stepHz, DoubleStream.of(density).boxed().toList(), HumPeak.in(density, stepHz));
    }

    /** Returns the size of one count in the channel's unit. */
    public double unitPerCount() {
        return channel.resolution();
    }
}

package io.heldmark.pipeline;

import io.heldmark.calibrate.LevelSum;
import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.config.VirtualChannelSpec;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.PlateForces;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.ArrayList;
import java.util.List;

/**
 * The newest levels of every cell under a plate, at the times of their sum, for as long as a contraction may last: so that it can be said
 * of a finished one where the force acted.
 *
 * <p><b>Cost.</b> 8 bytes a sample for the time and for each cell (four cells at 1 kHz and 120 s: 5 MB); nothing is allocated per sample.
 *
 * <p><b>Threading.</b> One thread.
 */
final class PlateTrack implements LevelSum.Terms {
    /** What a window may hold besides the contraction itself, before and after it. */
    private static final double AROUND_S = 5;

    private final VirtualChannelSpec spec;
    private final List<ChannelPath> terms;
    private final double leastN;
    private final double placeUMm;
    private final long[] timeNs;
    private final double[][] levelN;
    private long end;

    /** Makes an empty one for a plate on these cells. */
    PlateTrack(VirtualChannelSpec spec, List<ChannelPath> terms, StationSettings settings) {
        this.spec = spec;
        this.terms = List.copyOf(terms);
        leastN = settings.number(Config.PLATE_LEAST_N);
        placeUMm = settings.number(Config.PLATE_PLACE_U_MM);
        double rateHz = terms.get(0).info().sampleRateHz();
        int capacity =
                (int) Math.ceil((settings.number(Config.DETECT_LONGEST_S) + AROUND_S) * Math.max(1, rateHz) * 1.05);
        timeNs = new long[capacity];
        levelN = new double[terms.size()][capacity];
    }

    @Override
    public void onTerms(long atNs, double[] levels) {
        int slot = (int) (end++ % timeNs.length);
        timeNs[slot] = atNs;
        for (int i = 0; i < levelN.length; i++) {
            levelN[i][slot] = levels[i];
        }
    }

    /** Returns what the cells carried at the times of a window of the sum, above their zeros now in force. */
    PlateForces during(Window window) {
        List<PlateForces.Cell> cells = new ArrayList<>();
        boolean zeroed = true;
        for (int i = 0; i < terms.size(); i++) {
            VirtualChannelSpec.Term term = spec.terms().get(i);
            ChannelInfo info = terms.get(i).info();
            ZeroReference zero = terms.get(i).zeroPoint().zero();
            zeroed &= zero.taken();
            cells.add(new PlateForces.Cell(info, zero, term.factor(), term.xMm(), term.yMm()));
        }
        return new PlateForces(
                cells, forces(window, cells), leastN, placeUMm, zeroed ? null : VirtualChannels.NOT_ZEROED);
    }

    private double[][] forces(Window window, List<PlateForces.Cell> cells) {
        double[][] forceN = new double[terms.size()][window.size()];
        long at = firstAtOrAfter(window.timeNs(0));
        for (int w = 0; w < window.size(); w++) {
            while (at < end && timeNs[(int) (at % timeNs.length)] < window.timeNs(w)) {
                at++;
            }
            int slot = (int) (at % timeNs.length);
            boolean kept = at < end && timeNs[slot] == window.timeNs(w);
            for (int i = 0; i < forceN.length; i++) {
                forceN[i][w] = kept ? levelN[i][slot] - cells.get(i).zero().levelN() : Double.NaN;
            }
        }
        return forceN;
    }

    /** A window is a few seconds of the minutes that are kept: its beginning is searched from the newest sample back. */
    private long firstAtOrAfter(long atNs) {
        long oldest = Math.max(0, end - timeNs.length);
        long at = end;
        while (at > oldest && timeNs[(int) ((at - 1) % timeNs.length)] >= atNs) {
            at--;
        }
        return at;
    }
}

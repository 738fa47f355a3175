package io.heldmark.detect;

import io.heldmark.model.Contraction;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** One detector over one invented trace, with all it told. */
final class DetectorRun implements ContractionDetector.Listener {
    /** A live opening. */
    record Opening(Contraction contraction, double atS) {}

    final List<Opening> opened = new ArrayList<>();
    final List<Contraction> closed = new ArrayList<>();
    final List<Contraction> withdrawn = new ArrayList<>();
    final Map<Long, Double> noiseN = new HashMap<>();
    private long ids;

    static DetectorRun of(InventedTrace trace) {
        return run(trace, false);
    }

    /** The same, and the input is over then. */
    static DetectorRun toTheEnd(InventedTrace trace) {
        return run(trace, true);
    }

    private static DetectorRun run(InventedTrace trace, boolean toTheEnd) {
        DetectorRun run = new DetectorRun();
        ContractionDetector detector =
                new ContractionDetector(DetectorConfig.defaults(), trace.channel(), () -> ++run.ids, run);
        detector.zeroTaken(0, ZeroReference.taken(0, 0.1, 0));
        trace.feed(detector::onBatch);
        if (toTheEnd) {
            detector.end(Math.round(trace.lengthS * 1e9));
        }
        return run;
    }

    @Override
    public void onOpened(Contraction provisional, long atNs) {
        opened.add(new Opening(provisional, atNs * 1e-9));
    }

    @Override
    public void onClosed(Contraction finished, Window window, long atNs) {
        closed.add(finished);
        noiseN.put(finished.id(), window.restingNoiseN());
    }

    @Override
    public void onWithdrawn(Contraction c, long atNs) {
        withdrawn.add(c);
    }

    /** Returns the finished contraction that matches an effort with an overlap over union of at least a half. */
    static Contraction match(InventedEffort effort, List<Contraction> found) {
        for (Contraction c : found) {
            double from = Math.max(effort.onsetS(), c.onsetNs() * 1e-9);
            double to = Math.min(effort.offsetS(), c.offsetNs() * 1e-9);
            double union =
                    Math.max(effort.offsetS(), c.offsetNs() * 1e-9) - Math.min(effort.onsetS(), c.onsetNs() * 1e-9);
            if (to - from >= 0.5 * union) {
                return c;
            }
        }
        return null;
    }

    /** Returns the opening that belongs to an effort: the first within it that was kept. */
    Opening openingOf(Contraction c) {
        for (Opening o : opened) {
            if (o.contraction().id() == c.id()) {
                return o;
            }
        }
        return null;
    }
}

package io.heldmark.pipeline;

import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.detect.ContractionDetector;
import io.heldmark.detect.KeptWindow;
import io.heldmark.metric.CatchSpike;
import io.heldmark.metric.CellPair;
import io.heldmark.metric.EffortPairing;
import io.heldmark.metric.EffortPairing.Side;
import io.heldmark.metric.LogAsymmetry;
import io.heldmark.metric.MetricRegistry;
import io.heldmark.metric.PairClocks;
import io.heldmark.metric.PeakForce;
import io.heldmark.metric.QualityChecks;
import io.heldmark.metric.SymmetryCurve;
import io.heldmark.metric.TrialSpread;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.Window;
import java.io.IOException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Executor;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * Takes what the detectors of all channels find and what people change of it, has it measured and paired, and tells the
 * listener.
 *
 * <p><b>Threading.</b> Called by one thread. Measuring, pairing and telling is done by a worker that keeps the order of what
 * it is given: on that thread itself in a station, on another one where a file is analysed.
 */
final class ContractionDesk {
    private static final String CAUGHT = ContractionFlag.CATCH_SPIKE.id();
    private static final Set<String> IMPACT = Set.of(ContractionFlag.TOO_BRIEF.id(), ContractionFlag.STEP.id());

    private final MetricRegistry metrics = MetricRegistry.standard();
    private final EffortPairing pairing;
    private final double mismatchRelativeU;
    private final ReviewDesk reviews = new ReviewDesk();
    private final Map<Integer, TrialSpread> spreads = new HashMap<>();
    private final Map<Integer, Long> lowerings =
            new HashMap<>(); // The newest contraction of a channel, if it is a lowering.
    private final Map<Integer, PlateTrack> plates = new HashMap<>();
    private final StationListener out;
    private final Supplier<PairClocks> clocks;
    private final Executor work;
    private LaterMoves later = LaterMoves.none();
    private long lastId;

    /** Makes a desk; the clocks are asked for when a contraction ends, since they may be others by the time it is measured. */
    ContractionDesk(StationSettings settings, StationListener out, Supplier<PairClocks> clocks, Executor work) {
        this.clocks = clocks;
        this.work = work;
        double percent = settings.number(Config.CELLS_MISMATCH_PERCENT);
        mismatchRelativeU = percent > 0 ? percent / 100 : Double.NaN;
        pairing = new EffortPairing(new LogAsymmetry(), mismatchRelativeU);
        this.out = out;
    }

    /** Returns the session's next contraction id, from 1. */
    long nextId() {
        return ++lastId;
    }

    /** Returns the finished contractions with their samples. */
    ReviewDesk reviews() {
        return reviews;
    }

    /** Takes what the cells under a channel carry, where it is a plate; nothing where it is none. */
    void putPlate(int channel, @Nullable PlateTrack plate) {
        if (plate == null) {
            plates.remove(channel);
        } else {
            plates.put(channel, plate);
        }
    }

    /** Measures a contraction, found or moved by hand, within its window. */
    private Contraction measured(Contraction finished, Window window) {
        Window shared = MetricRegistry.shared(window);
        List<MetricValue> values = metrics.compute(shared);
        Contraction judged = finished.withMetrics(values)
                .withFlags(QualityChecks.judge(shared, values))
                .withoutFlags(QualityChecks.refuted(shared, values));
        boolean beyond = judged.flags().contains(ContractionFlag.BEYOND_RANGE.id());
        return beyond ? judged.beyond(shared.channel().cell().calibratedToN()) : judged;
    }

    private TrialSpread spreadOf(Contraction c) {
        return spreads.computeIfAbsent(c.channel(), channel -> new TrialSpread());
    }

    private static double peakN(Contraction c) {
        Quantity peak = c.quantity(PeakForce.ID);
        return peak == null ? Double.NaN : peak.value();
    }

    private static Contraction spread(Contraction c, boolean wide) {
        return wide ? c.withFlags(List.of(ContractionFlag.TRIAL_SPREAD)) : c;
    }

    private Contraction measuredAgain(Contraction moved, Window window) {
        Contraction measured = measured(moved, window);
        Review before = reviews.find(moved.id());
        if (before != null && before.automatic().flags().contains(CAUGHT)) {
            measured =
                    measured.withFlags(List.of(ContractionFlag.CATCH_SPIKE)); // Seen after the samples of its window.
        }
        return spread(measured, spreadOf(measured).again(measured.id(), peakN(measured)));
    }

    private void tell(@Nullable Effort effort) {
        if (effort != null) {
            Effort whole = throughLowering(effort);
            reviews.keep(whole);
            out.onEffort(whole);
        }
    }

    /** Adds the symmetry through a lowering of both limbs, where the samples of both are kept. */
    private Effort throughLowering(Effort effort) {
        Window left = windowOf(effort.leftContractionId());
        Window right = windowOf(effort.rightContractionId());
        if (left == null || right == null || !isLowering(left) || !isLowering(right)) {
            return effort;
        }
        CellPair cells = CellPair.of(left.channel(), right.channel(), mismatchRelativeU);
        return effort.withSymmetry(SymmetryCurve.of(left, right, cells));
    }

    private static boolean isLowering(Window window) {
        return window.conditions().effortType() == EffortType.ECCENTRIC;
    }

    private @Nullable Window windowOf(long id) {
        Review review = reviews.find(id);
        return review == null ? null : review.window();
    }

    /** Takes what a person does to the boundaries of a finished contraction; a refusal is told as a notice. */
    void onBoundary(BoundaryChange change, long atNs) {
        work.execute(() -> apply(change, atNs));
    }

    /** Takes what was moved after the session, of a recording; before any input. */
    void setLaterMoves(LaterMoves moves) {
        later = moves;
    }

    /** Takes what a person does while a recording is played: it is kept beside it. */
    void onLaterBoundary(BoundaryChange change, String movedAt, long atNs) {
        work.execute(() -> {
            Review after = make(change, atNs);
            if (after == null) {
                return;
            }
            try {
                later.put(after, movedAt);
            } catch (IOException e) {
                out.onNotice(
                        "warning",
                        "The boundaries cannot be kept beside the recording (" + e.getMessage()
                                + "); they hold until it is opened again.",
                        atNs);
            }
        });
    }

    private void apply(BoundaryChange change, long atNs) {
        if (!later.has(
                change.channel(), change.automaticOnsetNs())) { // else the later word stands, whatever was before it
            make(change, atNs);
        }
    }

    /** Makes a change and tells of it; absent where it was refused. */
    private @Nullable Review make(BoundaryChange change, long atNs) {
        String refusal = reviews.refusal(change);
        if (refusal != null) {
            out.onNotice("warning", "A boundary was not moved. " + refusal, atNs);
            return null;
        }
        Review after = reviews.apply(change, this::measuredAgain);
        if (after.manual() == null) {
            spreadOf(after.automatic()).again(after.automatic().id(), peakN(after.automatic()));
        }
        pairing.onRevised(after.inForce());
        out.onContraction(after.inForce());
        Effort effort = after.effort();
        if (effort != null) {
            tell(again(effort));
        }
        return after;
    }

    private @Nullable Effort again(Effort before) {
        Side left = side(before.leftContractionId());
        Side right = side(before.rightContractionId());
        return left == null || right == null ? null : pairing.again(before, left, right);
    }

    private @Nullable Side side(long id) {
        Review review = reviews.find(id);
        return review == null ? null : new Side(review.inForce(), review.channel(), review.timeStandardUncertaintyNs());
    }

    private void close(ChannelInfo channel, Contraction finished, KeptWindow window, PairClocks known, long atNs) {
        Contraction found = measured(finished, window);
        Contraction measured = spread(found, spreadOf(found).next(found.id(), peakN(found)));
        reviews.keep(channel, measured, window);
        if (isLowering(window)) {
            lowerings.put(measured.channel(), measured.id());
        } else {
            lowerings.remove(measured.channel());
        }
        out.onContraction(measured);
        tell(pairing.onFinal(measured, channel, window.timeStandardUncertaintyNs(), known));
        BoundaryChange moved = later.of(measured);
        if (moved != null) {
            make(moved, atNs);
        }
    }

    /** A window too brief for a contraction, soon after a lowering of the channel: the catch of the fall; the lowering is told again. */
    private void withdraw(Contraction withdrawn) {
        out.onContraction(withdrawn);
        Long id = lowerings.get(withdrawn.channel());
        Review last = id == null ? null : reviews.find(id);
        boolean impact = withdrawn.flags().stream().anyMatch(IMPACT::contains);
        if (last != null
                && impact
                && !last.automatic().flags().contains(CAUGHT)
                && withdrawn.onsetNs() - last.automatic().offsetNs() <= CatchSpike.LATEST_NS) {
            out.onContraction(reviews.flag(last.automatic().id(), ContractionFlag.CATCH_SPIKE));
        }
    }

    /** Returns the listener for one channel's detector. */
    ContractionDetector.Listener listenerOf(ChannelInfo channel) {
        return new ContractionDetector.Listener() {
            @Override
            public void onOpened(Contraction provisional, long atNs) {
                work.execute(() -> out.onContraction(provisional));
            }

            @Override
            public void onClosed(Contraction finished, Window window, long atNs) {
                PlateTrack plate = plates.get(channel.channel());
                KeptWindow samples = KeptWindow.of(window); // Measured too: quicker to read than the ring.
                KeptWindow kept = plate == null ? samples : samples.onPlate(plate.during(samples));
                PairClocks known = clocks.get();
                work.execute(() -> close(channel, finished, kept, known, atNs));
            }

            @Override
            public void onWithdrawn(Contraction withdrawn, long atNs) {
                work.execute(() -> withdraw(withdrawn));
            }
        };
    }
}

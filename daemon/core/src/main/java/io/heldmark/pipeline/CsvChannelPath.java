package io.heldmark.pipeline;

import io.heldmark.config.StationSettings;
import io.heldmark.detect.ContractionDetector;
import io.heldmark.importer.RelativeWindow;
import io.heldmark.importer.RestBefore;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TrialConditions;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;

/** The path of one column's samples: detect, take the rest before as zero, measure. */
final class CsvChannelPath implements ContractionDetector.Listener {
    private final ContractionDetector detector;
    private final ContractionDetector.Listener desk;
    private final RestBefore rest = new RestBefore();

    CsvChannelPath(ChannelInfo channel, StationSettings settings, TrialConditions conditions, ContractionDesk desk) {
        this.desk = desk.listenerOf(channel);
        detector = new ContractionDetector(StageConfigs.detector(settings), channel, desk::nextId, this);
        detector.setConditions(conditions);
    }

    void onBatch(SampleBatch batch) {
        detector.onBatch(batch);
        rest.onBatch(batch, detector.inContraction());
    }

    void end(long atNs) {
        detector.end(atNs);
    }

    @Override
    public void onOpened(Contraction provisional, long atNs) {
        desk.onOpened(withFlags(provisional, RestBefore.Origin.NEAR), atNs);
    }

    @Override
    public void onClosed(Contraction finished, Window window, long atNs) {
        boolean steady =
                !has(finished, ContractionFlag.BASELINE_UNSTABLE) && !has(finished, ContractionFlag.ONSET_NOT_SEEN);
        RestBefore.Base zero = rest.of(window, steady);
        desk.onClosed(withFlags(finished, zero.origin()), new RelativeWindow(window, zero), atNs);
    }

    @Override
    public void onWithdrawn(Contraction withdrawn, long atNs) {
        desk.onWithdrawn(withdrawn, atNs);
    }

    private static boolean has(Contraction contraction, ContractionFlag flag) {
        return contraction.flags().contains(flag.id());
    }

    /** Leaves out what is said of a session zero, for there is none, and adds what is to be said of the rest before. */
    private static Contraction withFlags(Contraction c, RestBefore.Origin origin) {
        List<String> flags = new ArrayList<>(c.flags());
        flags.remove(ContractionFlag.NO_ZERO.id());
        flags.remove(ContractionFlag.RESTING_LEVEL_OFF_ZERO.id());
        if (origin != RestBefore.Origin.NEAR) {
            flags.add(origin.flag().id());
        }
        return new Contraction(
                c.id(),
                c.revision(),
                c.channel(),
                c.limb(),
                c.onsetNs(),
                c.onsetStandardUncertaintyNs(),
                c.releaseStartNs(),
                c.offsetNs(),
                c.restingLevelN(),
                flags,
                c.metrics(),
                c.calibratedToN(),
                c.releaseStartStandardUncertaintyNs(),
                c.offsetStandardUncertaintyNs());
    }
}

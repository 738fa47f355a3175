package io.heldmark.simulator.truth;

import java.util.List;
import java.util.Map;

/**
 * A contraction as it really was: force on the channel without noise, hum and disturbances. Times are true times in seconds,
 * forces are newtons on the channel, the resting level included where nothing else is said.
 *
 * @param id number of the contraction on this channel, from 1.
 * @param effort number of the effort in the scenario, from 1; limbs that work together share it.
 * @param shape shape of the rise.
 * @param onsetS first departure of the muscle's force from its level before; a dip before it is not it.
 * @param restingLevelN level at the onset, pre-tension included.
 * @param peakN highest instant.
 * @param peakS time of the highest instant.
 * @param peakMean100msN highest 100-ms mean.
 * @param bestMean1sN highest 1-s mean between onset and offset; NaN where that is shorter than a second.
 * @param forceAtN force at a time since the onset, by {@code 50ms} to {@code 250ms}.
 * @param rfdNPerS mean slope over a window from the onset, by {@code 0-50ms} to {@code 0-250ms}.
 * @param rfdPeak20msNPerS greatest mean slope over any 20 ms up to the release.
 * @param riseSlopeNPerS greatest slope of the bare rise, without tremor, fluctuation and fatigue.
 * @param impulseNs integral of force above the resting level from onset to offset.
 * @param releaseStartS start of the release.
 * @param offsetS where force above the resting level is back at 5 % of what it was when the release began.
 * @param breakS break point of a lowering that is not controlled to its end; NaN otherwise.
 * @param preTensionStartS beginning of the pre-tension; NaN without one.
 * @param countermovementStartS beginning of the dip before the onset; NaN without one.
 * @param flags what is special about it.
 * @param complete whether the offset lies within what has been simulated.
 */
public record ContractionTruth(
        int id,
        int effort,
        String shape,
        double onsetS,
        double restingLevelN,
        double peakN,
        double peakS,
        double peakMean100msN,
        double bestMean1sN,
        Map<String, Double> forceAtN,
        Map<String, Double> rfdNPerS,
        double rfdPeak20msNPerS,
        double riseSlopeNPerS,
        double impulseNs,
        double releaseStartS,
        double offsetS,
        double breakS,
        double preTensionStartS,
        double countermovementStartS,
        List<String> flags,
        boolean complete) {}

package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.decode.DecodedFrame;
import io.heldmark.model.Effort;
import io.heldmark.model.TapState;
import io.heldmark.model.TapState.State;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.ClockTruth;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two cells whose links delay by different constant times, struck at one true instant. */
class TapAlignmentTest {
    private static final double K = 2;

    @TempDir
    Path folder;

    /** A session with knocks asked for, and the true error of both clocks. */
    private static final class Run implements StationListener {
        final List<TapState> taps = new ArrayList<>();
        final List<Effort> efforts = new ArrayList<>();
        final List<String> calls = new ArrayList<>();
        private final @Nullable ClockTruth[] clocks = new @Nullable ClockTruth[2];
        final double[] errorNs = new double[2];
        private VirtualSession session;

        VirtualSession session(String yaml, List<Double> askedS, Path recording) {
            VirtualSession made = new VirtualSession(Scenario.parse(yaml, "test"), this, recording);
            session = made;
            List<Double> left = new ArrayList<>(askedS);
            made.setPerson(nowNs -> {
                if (left.isEmpty() || nowNs < left.get(0) * 1e9) {
                    return null;
                }
                left.remove(0);
                return new StationEvent.TapAsked(List.of(), false, nowNs);
            });
            return made;
        }

        @Override
        public void onTap(TapState tap) {
            taps.add(tap);
            calls.add(tap.toString());
        }

        @Override
        public void onEffort(Effort effort) {
            efforts.add(effort);
            calls.add(effort.toString());
        }

        @Override
        public void onCounts(int channel, DecodedFrame frame, int position, long newestNs) {
            double tick = frame.firstTick + (frame.sampleCount - 1) * frame.ticksPerSample;
            ClockTruth truth = clocks[channel];
            if (truth == null) {
                truth = session.cells.get(channel).truth().clock();
                clocks[channel] = truth;
            }
            double trueS = truth.trueS(0, tick);
            errorNs[channel] = newestNs - 1e9 * trueS;
        }

        /** Left minus right error of the clocks now. */
        double differenceNs() {
            return errorNs[0] - errorNs[1];
        }

        TapState last() {
            return taps.get(taps.size() - 1);
        }
    }

    private static String yaml(int seed, double leftS, double rightS, String more) {
        return """
                schema: heldmark.scenario/1
                name: knock
                invented: true
                description: Knocks on what carries both cells, then efforts.
                seed: %d
                limbs:
                  - {name: left, maxForceN: 400, rest: {levelN: 6, driftN: 0.3}}
                  - {name: right, maxForceN: 380, rest: {levelN: 5, driftN: 0.3}}
                efforts: [{atS: 34, repeat: {everyS: 7, count: 3}, percentOfMax: 90, lagS: 0, holdS: 1, rise: {shape: exponential, peakRfdPerS: 7}}]
                %s
                cells:
                  - name: left
                    answersPings: false
                    channels: [{name: left, limb: left, calibration: {relativeU: 0.002}}]
                    adc: {countsPerNewton: 1500, noiseSdN: 0.25, humN: 0.1}
                    clock: {offsetPpm: 23, wanderPpm: 0.5, startTick: 0}
                    link: {kind: direct, latencyS: %s, jitterS: 0.0002}
                  - name: right
                    answersPings: false
                    channels: [{name: right, limb: right, calibration: {relativeU: 0.002}}]
                    adc: {countsPerNewton: 1500, noiseSdN: 0.25, humN: 0.1}
                    clock: {offsetPpm: -31, wanderPpm: 0.5, startTick: 0}
                    link: {kind: direct, latencyS: %s, jitterS: 0.0002}
                """.formatted(seed, more, leftS, rightS);
    }

    private static final String STRIKES =
            "disturbances: [{kind: strike, atS: [16, 16.9], repeat: {everyS: 4, count: 3}, forceN: [60, 150], durationS: [0.02, 0.05]}]";

    @Test
    void shouldMeasureTheConstantDifferenceOfTwoDelays() {
        Run run = new Run();
        run.session(yaml(1, 0.0003, 0.0078, STRIKES), List.of(15.0, 19.0, 23.0), null)
                .run(60);
        System.out.println(run.taps);
        System.out.println(run.differenceNs() + " " + run.efforts);
        assertEquals(State.MEASURED, run.last().state());
        assertEquals(3, run.last().count());
        assertNotNull(run.efforts.get(0));
        assertTrue(Math.abs(run.differenceNs()) < K * run.last().clocksStandardUncertaintyNs());
    }
}

package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.decode.DecodedFrame;
import io.heldmark.model.Effort;
import io.heldmark.model.TapState;
import io.heldmark.model.TapState.State;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.ClockTruth;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
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

        /** The same without the truth, which a replay has not. */
        StationListener told() {
            return new StationListener() {
                @Override
                public void onTap(TapState tap) {
                    Run.this.onTap(tap);
                }

                @Override
                public void onEffort(Effort effort) {
                    Run.this.onEffort(effort);
                }
            };
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
                    adc: {countsPerNewton: 10000, noiseSdN: 0.25, humN: 0.1}
                    clock: {offsetPpm: 23, wanderPpm: 0.5, startTick: 0}
                    link: {kind: direct, latencyS: %s, jitterS: 0.0002}
                  - name: right
                    answersPings: false
                    channels: [{name: right, limb: right, calibration: {relativeU: 0.002}}]
                    adc: {countsPerNewton: 10000, noiseSdN: 0.25, humN: 0.1}
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
                .run(40);
        TapState tap = run.last();
        assertEquals(State.MEASURED, tap.state());
        assertEquals(3, tap.count());
        assertEquals(-7.5e6, tap.offsetNs(), 0.1e6);
        assertTrue(Math.abs(run.differenceNs()) < K * tap.clocksStandardUncertaintyNs(), "" + run.differenceNs());
        assertTrue(tap.clocksStandardUncertaintyNs() < tap.untiedStandardUncertaintyNs() / 4, tap.toString());
    }

    @Test
    void shouldTellTheLagBetweenTheLimbsBetterThanBefore() {
        Run plain = new Run();
        plain.session(yaml(2, 0.0003, 0.0078, STRIKES), List.of(), null).run(40);
        Run aligned = new Run();
        aligned.session(yaml(2, 0.0003, 0.0078, STRIKES), List.of(15.0), null).run(40);
        Effort before = plain.efforts.get(0);
        Effort after = aligned.efforts.get(0);
        assertTrue(Math.abs(before.onsetLagNs()) > 6e6, before.toString());
        assertTrue(Math.abs(after.onsetLagNs()) < K * after.onsetLagStandardUncertaintyNs(), after.toString());
        assertTrue(Math.abs(after.onsetLagNs()) < 3e6, after.toString());
        assertTrue(after.onsetLagStandardUncertaintyNs() < before.onsetLagStandardUncertaintyNs() / 2);
        assertTrue(Double.isNaN(before.clocksStandardUncertaintyNs()));
    }

    @Test
    void shouldStayWithinTheStatedInterval() {
        int offsets = 0;
        int lags = 0;
        int runs = 20;
        StringBuilder errors = new StringBuilder();
        for (int seed = 100; seed < 100 + runs; seed++) {
            Run run = new Run();
            String yaml = yaml(seed, 0.0002, 0.0002 * (seed % 12), STRIKES).replace("{atS: 34,", "{atS: 22,");
            VirtualSession session = run.session(yaml, List.of(15.0), null);
            session.run(26);
            TapState tap = run.last();
            assertEquals(State.MEASURED, tap.state(), tap.toString());
            double errorNs = tap.offsetNs() - 0.2e6 * (1 - seed % 12);
            offsets += Math.abs(errorNs) <= K * tap.clocksStandardUncertaintyNs() ? 1 : 0;
            Effort effort = run.efforts.get(0);
            double lagNs = effort.onsetLagNs() - 1e9 * (onsetS(session, 0) - onsetS(session, 1));
            lags += Math.abs(lagNs) <= K * effort.onsetLagStandardUncertaintyNs() ? 1 : 0;
            errors.append(String.format(
                    Locale.ROOT,
                    "%.0f(%.0f) %.0f(%.0f)%n",
                    errorNs,
                    tap.clocksStandardUncertaintyNs(),
                    lagNs,
                    effort.onsetLagStandardUncertaintyNs()));
        }
        assertTrue(offsets >= 18, offsets + " of " + runs + "\n" + errors); // 95 % of 20 are 19
        assertTrue(lags >= 18, lags + " of " + runs + "\n" + errors);
    }

    private static double onsetS(VirtualSession session, int cell) {
        return session.cells.get(cell).truth().contractions(0).get(0).onsetS();
    }

    @Test
    void shouldComeToTheSameInAReplay() throws Exception {
        Path file = folder.resolve("knock.pcapng");
        Run live = new Run();
        live.session(yaml(3, 0.0003, 0.0028, STRIKES), List.of(15.0), file).run(40);
        assertTrue(live.calls.stream().anyMatch(call -> call.contains("MEASURED")));
        Run replayed = new Run();
        StationOptions options = new StationOptions(Config.defaults(), folder, new SystemStationClock(), "test", true);
        try (Station station = Station.replay(options, file)) {
            station.addListener(replayed.told());
            station.replaySpeed(0);
            station.start();
            while (!Objects.requireNonNull(station.replayState()).ended()) {
                Thread.sleep(5);
            }
        }
        assertEquals(live.calls, replayed.calls);
    }

    private static String refusal(String strikes, double askedS, double untilS) {
        Run run = new Run();
        run.session(yaml(4, 0.0003, 0.0003, strikes), List.of(askedS), null).run(untilS);
        assertEquals(State.REFUSED, run.last().state(), run.last().toString());
        return String.valueOf(run.last().reason());
    }

    @Test
    void shouldRefuseWhatIsNoSharedKnock() {
        String one = "disturbances: [{kind: strike, atS: 16, limbs: [left], forceN: 90, durationS: 0.03}]";
        assertTrue(refusal(one, 15, 18.5).startsWith("Only left saw it"));
        String two =
                "disturbances: [{kind: strike, atS: 16, repeat: {everyS: 0.5, count: 2}, forceN: 90, durationS: 0.03}]";
        assertTrue(refusal(two, 15, 18.5).startsWith("More than one"));
        String weak = "disturbances: [{kind: strike, atS: 16, forceN: 6, durationS: 0.03}]";
        assertTrue(refusal(weak, 15, 18.5).startsWith("Too weak on left"));
        String push = "disturbances: [{kind: laidDown, atS: 16, forceN: 60, durationS: 0.1}]";
        assertTrue(refusal(push, 15, 18.5).contains("pushed"));
        String hard = "disturbances: [{kind: strike, atS: 16, forceN: 1000, durationS: 0.03}]";
        assertTrue(refusal(hard, 15, 18.5).contains("range"));
        assertTrue(refusal("", 2, 3).contains("ten seconds"));
        assertTrue(refusal("", 12, 33).startsWith("No knock within 20 s"));
    }

    @Test
    void shouldLoseTheTieWhereTheLinkIsLost() {
        String yaml = yaml(5, 0.0003, 0.0028, STRIKES)
                .replace(
                        "link: {kind: direct, latencyS: 0.0028, jitterS: 0.0002}",
                        "link: {kind: direct, latencyS: 0.0028, jitterS: 0.0002}\n    faults: {disconnect: {atS: [30], durationS: 1}}");
        Run run = new Run();
        run.session(yaml, List.of(15.0), null).run(33);
        assertEquals(State.LOST, run.last().state(), run.last().toString());
        assertEquals(0, run.last().count());
    }
}

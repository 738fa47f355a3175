package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.ChannelTruth;
import io.heldmark.simulator.truth.ContractionTruth;
import io.heldmark.simulator.truth.DisturbanceTruth;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The catch of a fall, held on the simulators' labels: lowerings with a break, caught or not, early or late, with two seeds of
 * their own. The command that prints the figures: {@code mvn -pl daemon/core -am test -Dtest=CatchSpikeTest
 * -Dsurefire.failIfNoSpecifiedTests=false}.
 */
class CatchSpikeTest {
    private static final Path SCENARIO =
            Path.of(System.getProperty("heldmark.root"), "simulators", "scenarios", "eccentric-lower.yaml");
    private static final String SPIKE = "    catchSpike: {forceN: [20, 60], afterS: [0.45, 0.6], durationS: 0.08}\n";
    private static final TestConditions LOWERING =
            TestConditions.UNKNOWN.toBuilder().effortType(EffortType.ECCENTRIC).build();

    private static final double LIFTED_N = 20;

    @TempDir
    Path folder;

    private static VirtualSession session(String spike, int seed, boolean declared, EventLog log, Path recording)
            throws Exception {
        String yaml = Files.readString(SCENARIO);
        assertTrue(yaml.contains(SPIKE), "the scenario is as this test knows it");
        String other = yaml.replace(SPIKE, spike).replaceFirst("(?m)^seed: .*$", "seed: " + seed);
        VirtualSession session = new VirtualSession(Scenario.parse(other, "lower"), log, recording);
        boolean[] said = {!declared};
        session.setPerson(nowNs -> {
            if (said[0]) {
                return null;
            }
            said[0] = true;
            SaidConditions all = new SaidConditions(LOWERING, TestConditions.UNKNOWN, TestConditions.UNKNOWN);
            return new StationEvent.TrialsSaid(all, nowNs);
        });
        return session;
    }

    /** Returns the last word on each finished contraction. */
    private static Map<Long, Contraction> lastOf(List<Contraction> told) {
        Map<Long, Contraction> last = new LinkedHashMap<>();
        for (Contraction c : told) {
            if (c.revision() == Revision.FINAL || c.revision() == Revision.MANUAL) {
                last.put(c.id(), c);
            }
        }
        return last;
    }

    /** A lowering that was found, and by how much its catch truly lifts the force again after the break; 0 without one. */
    private record Lowered(Contraction found, double riseN) {}

    private static List<Lowered> lowerings(String spike, boolean declared) throws Exception {
        List<Lowered> all = new ArrayList<>();
        for (int seed = 101; seed <= 102; seed++) {
            EventLog log = new EventLog();
            VirtualSession session = session(spike, seed, declared, log, null);
            session.run(130);
            for (ChannelTruth channel : session.cells.get(0).truth().channels()) {
                for (ContractionTruth truth : channel.contractions()) {
                    lastOf(log.contractions).values().stream()
                            .filter(c -> c.channel() == channel.index()
                                    && Math.abs(c.offsetNs() * 1e-9 - truth.offsetS()) < 1
                                    && truth.complete())
                            .forEach(c -> all.add(new Lowered(c, riseN(channel, truth))));
                }
            }
        }
        assertTrue(all.size() >= 20, "lowerings: " + all.size());
        return all;
    }

    private static double riseN(ChannelTruth channel, ContractionTruth truth) {
        double riseN = 0;
        double brokenN = 0.75 * channel.forceN(truth.releaseStartS()); // Surely under 80 % of the highest 100 ms.
        for (DisturbanceTruth d : channel.disturbances()) {
            if (d.kind().equals("catch-spike")
                    && d.fromS() > truth.releaseStartS()
                    && d.fromS() < truth.offsetS() + 1) {
                double lowestN = Double.POSITIVE_INFINITY;
                for (double t = d.fromS(); t < d.toS(); t += 0.001) {
                    lowestN = Math.min(lowestN, channel.forceN(t));
                    riseN = lowestN > brokenN ? riseN : Math.max(riseN, channel.forceN(t) - lowestN);
                }
            }
        }
        return riseN;
    }

    private static long with(List<Lowered> lowered, String flag) {
        return lowered.stream().filter(l -> l.found().flags().contains(flag)).count();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "as the scenario has it | [20, 60] | [0.45, 0.6]",
                "at the offset | [30, 80] | [0.2, 0.35]",
                "within the release | [80, 200] | [0.15, 0.25]",
                "hard and late | [150, 400] | [0.5, 0.9]"
            })
    void shouldSeeTheCatchAndCallItNothingElse(String when, String forceN, String afterS) throws Exception {
        List<Lowered> all =
                lowerings("    catchSpike: {forceN: " + forceN + ", afterS: " + afterS + ", durationS: 0.08}\n", true);
        List<Lowered> lifted = all.stream().filter(l -> l.riseN() >= LIFTED_N).toList();
        System.out.printf(
                "caught, %s: flagged %d of %d, of %d in which the force rose again by %.0f N %d%n",
                when, with(all, "catch-spike"), all.size(), lifted.size(), LIFTED_N, with(lifted, "catch-spike"));
        assertTrue(lifted.size() >= 12, "impacts that are more than a shoulder: " + lifted.size());
        // Those that are missed part the lowering from what follows (not-back-to-rest), or come as its window ends.
        assertTrue(with(lifted, "catch-spike") >= 0.85 * lifted.size());
        assertEquals(0, with(all, "jerk"));
        assertEquals(0, with(all, "double-effort"));
    }

    @Test
    void shouldSeeNoCatchWhereThereIsNone() throws Exception {
        List<Lowered> found = lowerings("", true);
        assertEquals(0, with(found, "catch-spike"));
        assertEquals(0, with(found, "jerk"));
    }

    @Test
    void shouldSayNothingOfACatchWhereNobodySaidThatItWasALowering() throws Exception {
        assertEquals(0, with(lowerings(SPIKE, false), "catch-spike"));
    }

    /** A catch that comes when the lowering is finished is told with the lowering once more: live, replayed and in the analysis. */
    @Test
    void shouldTellTheLoweringAgainAlikeEverywhere() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("lower.pcapng");
        session(SPIKE, 101, true, live, file).run(40);
        long twice = live.contractions.stream()
                .filter(c -> c.revision() == Revision.FINAL)
                .count();
        assertTrue(twice > lastOf(live.contractions).size(), "told again: " + twice);
        StationReplayTest.assertSameReplay(live, file, folder);
    }
}

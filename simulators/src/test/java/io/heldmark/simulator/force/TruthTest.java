package io.heldmark.simulator.force;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.simulator.Scenarios;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.CellTruth;
import io.heldmark.simulator.truth.ChannelTruth;
import io.heldmark.simulator.truth.ContractionTruth;
import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The truth against the force itself, and both against closed forms. */
class TruthTest {
    /**
     * F = 400 (1 - e^(-t/0.1)). Expected values: python3 -c "from math import exp; F=lambda t:400*(1-exp(-t/.1));
     * print([F(T/1e3)/(T/1e3) for T in (50,100,150,200,250)])"
     */
    @Test
    void shouldHaveTheClosedFormOfAnExponentialRise() {
        ContractionTruth c = only(Scenarios.clean(
                12, "efforts: [{atS: 3, rise: {shape: exponential, peakRfdPerS: 10, startRatio: 0}, holdS: 3}]", ""));
        assertEquals(3, c.onsetS(), 1e-12);
        assertEquals(3147.7547, c.rfdNPerS().get("0-50ms"), 1e-3);
        assertEquals(2528.4822, c.rfdNPerS().get("0-100ms"), 1e-3);
        assertEquals(2071.6529, c.rfdNPerS().get("0-150ms"), 1e-3);
        assertEquals(1729.3294, c.rfdNPerS().get("0-200ms"), 1e-3);
        assertEquals(1468.6640, c.rfdNPerS().get("0-250ms"), 1e-3);
        assertEquals(3625.3849, c.rfdPeak20msNPerS(), 0.01); // 400 (1 - e^-0.2) / 0.02
        assertEquals(4000, c.riseSlopeNPerS(), 1e-9);
        assertEquals(400, c.peakN(), 1e-6);
        assertEquals(400, c.peakMean100msN(), 1e-6);
        assertEquals(400, c.bestMean1sN(), 1e-3);
        // 95 % at 0.1 ln 20, then three seconds.
        assertEquals(3 + 0.1 * Math.log(20) + 3, c.releaseStartS(), 1e-9);
        // 1 - step(u) = 0.05 at u = 0.810745 (python3 -c "from scipy.optimize import brentq;
        // print(brentq(lambda u: 1-(10*u**3-15*u**4+6*u**5)-.05, 0, 1))"), release of 0.3 s.
        assertEquals(c.releaseStartS() + 0.3 * 0.810745, c.offsetS(), 1e-6);
        assertTrue(c.complete());
    }

    @ParameterizedTest
    @ValueSource(strings = {"demo", "explosive", "ramps", "eccentric-lower", "faults", "eight-by-2k"})
    void shouldAgreeWithTheForceSampledAtTenTimesTheGrid(String name) {
        Scenario scenario = Scenario.bundled(name).withAutostart().withDurationS(70);
        CellTruth truth = truth(scenario);
        int checked = 0;
        for (ChannelTruth channel : truth.channels()) {
            for (ContractionTruth c : channel.contractions()) {
                if (c.complete() && quiet(channel, c)) {
                    check(channel, c);
                    checked++;
                }
            }
        }
        assertTrue(checked >= 4, "checked " + checked);
    }

    private static boolean quiet(ChannelTruth channel, ContractionTruth c) {
        return channel.disturbances().stream().noneMatch(d -> d.fromS() < c.offsetS() && d.toS() > c.onsetS());
    }

    private static void check(ChannelTruth channel, ContractionTruth c) {
        DoubleUnaryOperator force = channel.force();
        double stepS = 5e-5;
        double peak = Double.NEGATIVE_INFINITY;
        double integral = 0;
        List<Double> trace = new ArrayList<>();
        for (double timeS = c.onsetS(); timeS <= c.offsetS(); timeS += stepS) {
            double forceN = force.applyAsDouble(timeS);
            trace.add(forceN);
            peak = Math.max(peak, forceN);
            integral += (forceN - c.restingLevelN()) * stepS;
        }
        double scale = peak - c.restingLevelN();
        assertEquals(peak, c.peakN(), 1e-5 * scale);
        assertEquals(c.peakN(), force.applyAsDouble(c.peakS()), 1e-9);
        assertEquals(integral, c.impulseNs(), 2e-3 * Math.abs(integral));
        assertEquals(best(trace, 2000), c.peakMean100msN(), 1e-4 * scale);
        double releaseN = force.applyAsDouble(c.releaseStartS());
        // The slow drift of the rest moves the level a little between onset and offset.
        assertEquals(0.05 * (releaseN - c.restingLevelN()), force.applyAsDouble(c.offsetS()) - c.restingLevelN(), 3);
        assertEquals(c.forceAtN().get("100ms"), force.applyAsDouble(c.onsetS() + 0.1), 1e-9);
    }

    private static double best(List<Double> trace, int samples) {
        double sum = 0;
        double best = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < trace.size(); i++) {
            sum += trace.get(i) - (i >= samples ? trace.get(i - samples) : 0);
            best = i >= samples - 1 ? Math.max(best, sum / samples) : best;
        }
        return best;
    }

    @Test
    void shouldNotLeaveTheRestBeforeTheOnset() {
        Scenario scenario = Scenario.bundled("demo").withAutostart().withDurationS(40);
        ChannelTruth channel = truth(scenario).channels().get(0);
        LimbForce limb = new Person(scenario).limb("left");
        limb.extendTo(40);
        for (ContractionTruth c : channel.contractions()) {
            for (double beforeS = 0; beforeS < 1; beforeS += 0.001) {
                assertEquals(0, limb.muscleN(c.onsetS() - beforeS));
            }
            assertTrue(limb.muscleN(c.onsetS() + 0.001) > 0);
        }
    }

    @Test
    void shouldKeepLimbsTogetherAndEffortsApart() {
        CellTruth left = truth(Scenario.bundled("demo").withAutostart().withDurationS(120));
        List<ContractionTruth> contractions = left.contractions(0);
        assertTrue(contractions.size() > 15, "about two in twelve seconds: " + contractions.size());
        double endS = 0;
        for (ContractionTruth c : contractions) {
            assertTrue(c.onsetS() > endS + 1, "a second of rest at least");
            endS = c.offsetS();
        }
        assertTrue(contractions.get(0).onsetS() < 5, "a viewer sees one within the first seconds");
    }

    @Test
    void shouldFindNoContractionInQuiet() {
        CellTruth truth = truth(Scenario.bundled("quiet").withAutostart());
        assertEquals(0, truth.contractions(0).size());
        assertTrue(truth.channels().get(0).disturbances().size() > 30);
    }

    @Test
    void shouldMarkWhatIsSpecialAboutAnEffort() {
        ContractionTruth c = only(Scenarios.clean(20, """
                efforts:
                  - atS: 5
                    rise: {shape: lean, durationS: 3, breakAngleDeg: 50}
                    holdS: 0
                    preTension: {forceN: 20, durationS: 1}
                    doubleEffort: {afterS: 1, dipPercent: 40, durationS: 0.5}
                    earlyReleaseS: 0.2
                    catchSpike: {forceN: 50, afterS: 0.5}
                """, ""));
        assertEquals(List.of("pre-tension", "double-effort", "early-release", "catch-spike", "break-point"), c.flags());
        assertEquals(4, c.preTensionStartS(), 1e-12);
        assertEquals(20, c.restingLevelN(), 1e-9);
        assertEquals(7.8, c.breakS(), 1e-12);
        assertTrue(Double.isNaN(c.countermovementStartS()));
    }

    @Test
    void shouldDipBeforeTheOnsetOfACountermovement() {
        Scenario scenario =
                Scenarios.clean(10, "efforts: [{atS: 5, countermovement: {forceN: 8, durationS: 0.2}}]", "");
        ChannelTruth channel = truth(scenario).channels().get(0);
        assertEquals(-8, channel.forceN(4.9), 1e-9);
        assertEquals(0, channel.forceN(5), 1e-9);
        assertEquals(4.8, channel.contractions().get(0).countermovementStartS(), 1e-12);
        assertEquals(5, channel.contractions().get(0).onsetS(), 1e-12);
    }

    @Test
    void shouldPutOffAnEffortUntilTheOneBeforeIsOver() {
        Scenario scenario = Scenarios.clean(60, """
                efforts:
                  - {atS: 3, holdS: 5}
                  - {atS: 4, holdS: 5}
                """, "");
        List<ContractionTruth> contractions = truth(scenario).contractions(0);
        assertEquals(2, contractions.size());
        double endS = contractions.get(0).releaseStartS() + 0.3;
        assertEquals(endS + 1, contractions.get(1).onsetS(), 1e-9);
    }

    @Test
    void shouldScaleWithTheShareOfAChannel() {
        Scenario scenario = Scenario.bundled("eight-by-2k").withAutostart().withDurationS(10);
        CellTruth truth = truth(scenario);
        ContractionTruth first = truth.contractions(0).get(0);
        ContractionTruth second = truth.contractions(1).get(0);
        assertEquals(first.peakN() / 0.21, second.peakN() / 0.27, 1e-9);
        assertEquals(first.onsetS(), second.onsetS());
    }

    @Test
    void shouldLeaveAWeightWhereItWasLaidDown() {
        Scenario scenario = Scenarios.clean(30, """
                disturbances:
                  - {kind: laidDown, atS: 5, forceN: 30, durationS: 0.5}
                  - {kind: bump, atS: 10, forceN: 20, durationS: 0.3}
                  - {kind: lifted, atS: 15, forceN: 10, durationS: 0.5}
                """, "");
        ChannelTruth channel = truth(scenario).channels().get(0);
        assertEquals(0, channel.forceN(4.9));
        assertEquals(30, channel.forceN(6));
        assertEquals(20, channel.forceN(25), 1e-12);
        assertEquals(30, channel.forceN(12), 1e-12, "also when asked for out of order");
        assertFalse(channel.forceN(10.05) == 30, "the bump shows");
        assertEquals(3, channel.disturbances().size());
    }

    private static ContractionTruth only(Scenario scenario) {
        List<ContractionTruth> contractions = truth(scenario).contractions(0);
        assertEquals(1, contractions.size());
        return contractions.get(0);
    }

    private static CellTruth truth(Scenario scenario) {
        VirtualCell cell = new VirtualCell(scenario, 0);
        while (cell.advance()) {
            // Only the end counts here.
        }
        return cell.truth();
    }
}

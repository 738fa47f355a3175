package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.TrialConditions;
import io.heldmark.simulator.scenario.Scenario;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/** Torques about a joint from the lever arms of the settings, live; expected values by hand: T = F r + G. */
class LeversTest {
    private static final String SCENARIO = """
            schema: heldmark.scenario/1
            name: levers
            invented: true
            description: One effort on two cells of one leg.
            seed: 4
            limbs: [{name: left, maxForceN: 400, rest: {levelN: 20}}]
            efforts: [{atS: 6, percentOfMax: 100, holdS: 3}]
            cells:
              - name: plate
                channels:
                  - {name: c0, limb: left, share: 0.6, calibration: {}}
                  - {name: c1, limb: left, share: 0.4, calibration: {}}
            """;

    /** Remembers the figures of final contractions by the name of their channel. */
    private static final class Heard implements StationListener {
        final Map<Integer, String> names = new HashMap<>();
        final Map<String, Map<String, MetricValue>> figures = new HashMap<>();

        @Override
        public void onChannels(List<ChannelInfo> infos, List<TraceFilter> filters, long atNs) {
            infos.forEach(info -> names.put(info.channel(), info.name()));
        }

        @Override
        public void onContraction(Contraction c) {
            if (c.revision() == Revision.FINAL) {
                Map<String, MetricValue> of = new HashMap<>();
                c.metrics().forEach(value -> of.put(value.id(), value));
                figures.put(names.get(c.channel()), of);
            }
        }

        Quantity quantity(String channel, String id) {
            return Objects.requireNonNull(figures.get(channel).get(id).quantity(), channel + " " + id);
        }
    }

    private static Heard run(String levers) {
        Heard heard = new Heard();
        Map<String, String> line = Map.of("channels.virtual", "whole = 0#0 + 0#1", "channels.levers", levers);
        new VirtualSession(Scenario.parse(SCENARIO, "test"), Config.resolve(Map.of(), line), heard, null).run(14);
        return heard;
    }

    @Test
    void shouldGiveTorquesToSumsAndLimbsWhileTheSessionRuns() {
        Heard heard = run("left = 0.3(0.01); whole = 0.32(0.005) + 11.8(0.6)");
        double cellN = heard.quantity("c0", "force.peak").value();
        assertEquals(0.3 * cellN, heard.quantity("c0", "torque.peak").value(), 1e-9 * cellN);
        Quantity force = heard.quantity("whole", "force.peak");
        Quantity torque = heard.quantity("whole", "torque.peak");
        assertEquals(0.32 * force.value() + 11.8, torque.value(), 1e-9 * force.value());
        assertEquals("N·m", torque.unit());
        double arm = force.value() * 0.005;
        double share = 0.32 * force.standardUncertainty();
        assertEquals(Math.sqrt(arm * arm + share * share + 0.36), torque.standardUncertainty(), 1e-6);
    }

    @Test
    void shouldSubtractWhatHelpsTheMuscle() {
        Heard heard = run("whole = 0.32 - 11.8");
        Quantity force = heard.quantity("whole", "force.peak");
        double forceN = force.value();
        Quantity torque = heard.quantity("whole", "torque.peak");
        assertEquals(0.32 * forceN - 11.8, torque.value(), 1e-9 * forceN);
        // Nothing is said of the errors: 5 mm of the arm, a tenth of the weight's torque.
        double known = StrictMath.hypot(0.005 * forceN, 0.32 * force.standardUncertainty());
        assertEquals(StrictMath.hypot(known, 1.18), torque.standardUncertainty(), 1e-6);
        assertTrue(
                Objects.requireNonNull(
                                heard.figures.get("c0").get("torque.peak").notComputed())
                        .contains("no lever arm"),
                "a name is that channel's alone");
    }

    @Test
    void shouldLeaveWhatIsSaidOfATrial() {
        Levers levers = new Levers(Config.resolve(Map.of(), Map.of("channels.levers", "left = 0.3(0.01) + 9(1)")));
        ChannelInfo left =
                new ChannelInfo(0, "cell", "d", 0, "c0", Limb.LEFT, 1000, 0, 2000, "N", "factory", 0.001, 0.01);
        TestConditions said = TestConditions.UNKNOWN.toBuilder()
                .leverArmM(0.4, 0.002)
                .gravity(Gravity.NONE)
                .build();
        assertEquals(said, levers.of(left, TrialConditions.always(said)).at(0));
        TestConditions filled =
                levers.of(left, TrialConditions.always(TestConditions.UNKNOWN)).at(0);
        assertEquals(0.3, filled.leverArmM());
        assertEquals(Gravity.ADD, filled.gravity());
    }
}

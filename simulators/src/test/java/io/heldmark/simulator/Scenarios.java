package io.heldmark.simulator;

import io.heldmark.simulator.scenario.Scenario;

/** Small scenarios for tests, put together from lines of YAML. */
public final class Scenarios {
    private Scenarios() {}

    /**
     * Makes a scenario with one limb and one cell of one channel, both called left.
     *
     * @param durationS its length, in seconds.
     * @param limb further keys of the limb, flow style without braces.
     * @param events lines of efforts and disturbances.
     * @param cell further lines of the cell, each indented by four spaces.
     */
    public static Scenario one(double durationS, String limb, String events, String cell) {
        return Scenario.parse("""
                schema: heldmark.scenario/1
                name: test
                invented: true
                description: an invented person
                seed: 4711
                durationS: %s
                limbs:
                  - {name: left, %s}
                %s
                cells:
                  - name: left
                %s
                    channels: [{name: left, limb: left, calibration: {}}]
                """.formatted(durationS, limb, events, cell), "test.yaml");
    }

    /** Makes a scenario without noise: 400 N, no tremor, no drift; streams at once. */
    public static Scenario clean(double durationS, String events, String cell) {
        return one(durationS, "maxForceN: 400, tremorPercent: 0, fluctuationPercent: 0", events, cell)
                .withAutostart();
    }
}

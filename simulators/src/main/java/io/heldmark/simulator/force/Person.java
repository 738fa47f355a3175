package io.heldmark.simulator.force;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.Scenario;
import java.util.ArrayList;
import java.util.List;

/** The invented person of a scenario: the forces of all limbs. Every cell makes one of its own, and all are the same. */
public final class Person {
    private final List<LimbForce> limbs = new ArrayList<>();

    /** Makes the person of a scenario. */
    public Person(Scenario scenario) {
        Plan plan = new Plan(scenario);
        SeededRandom random = new SeededRandom(scenario.seed());
        for (int i = 0; i < scenario.limbs().size(); i++) {
            String name = scenario.limbs().get(i).name();
            limbs.add(new LimbForce(i, scenario.limbs().get(i), plan, random.split("limb/" + name)));
        }
    }

    /**
     * Returns a limb by name.
     *
     * @throws IllegalArgumentException if there is none.
     */
    public LimbForce limb(String name) {
        for (LimbForce limb : limbs) {
            if (limb.name().equals(name)) {
                return limb;
            }
        }
        throw new IllegalArgumentException("no limb of this name: name=" + name);
    }
}

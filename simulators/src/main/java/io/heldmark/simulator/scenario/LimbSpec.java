package io.heldmark.simulator.scenario;

import java.util.List;

/**
 * A limb of the invented person.
 *
 * @param name its name.
 * @param maxForceN force of a maximal effort, in newtons.
 * @param rest what the cell feels while it rests.
 * @param tremorPercent tremor during an effort, root mean square, in percent of the force.
 * @param tremorHz lowest and highest frequency of the tremor, in hertz.
 * @param fluctuationPercent slow fluctuation during an effort, root mean square, in percent of the force.
 */
public record LimbSpec(
        String name,
        double maxForceN,
        Rest rest,
        double tremorPercent,
        List<Double> tremorHz,
        double fluctuationPercent) {
    /**
     * The resting limb.
     *
     * @param levelN level on the cell, in newtons.
     * @param driftN slow drift, root mean square, in newtons.
     * @param driftPeriodS longest period of the drift, in seconds.
     * @param breathingN amplitude of the sway with each breath, in newtons.
     */
    public record Rest(double levelN, double driftN, double driftPeriodS, double breathingN) {}
}

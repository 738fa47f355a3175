package io.heldmark.simulator.force;

import io.heldmark.simulator.math.Sine;
import io.heldmark.simulator.scenario.DisturbanceSpec;

/**
 * Something that moves the force and is no effort, all numbers drawn.
 *
 * <p>A twitch has the shape {@code (t/T) e^(1 - t/T)} of a motor unit's twitch, T a fifth of its length. Source: Fuglevand,
 * Winter &amp; Patla 1993, J Neurophysiol 70, 2470-2488 (from memory). The others are common practice, no published source: a
 * bump rings at four cycles over its length and dies away, a strike is a hump over the first half and a smaller one back, a tug is a hump, a weight laid down rings to its new level.
 *
 * @param kind what happens.
 * @param startS when it begins, in seconds.
 * @param forceN its size, in newtons.
 * @param durationS its length, in seconds.
 */
record Disturbance(DisturbanceSpec.Kind kind, double startS, double forceN, double durationS) {
    private static final double STRUCK = 0.5;
    private static final double REBOUND = 0.25;

    /** Returns what it adds to the force at a time, in newtons. */
    double forceN(double timeS) {
        double u = (timeS - startS) / durationS;
        if (u <= 0) {
            return 0;
        }
        return switch (kind) {
            case BUMP -> u >= 1 ? 0 : forceN * StrictMath.exp(-4 * u) * Sine.ofCycles(4 * u) * (1 - Curves.step(u));
            case STRIKE -> forceN * (Curves.hump(u / STRUCK) - REBOUND * Curves.hump((u - STRUCK) / (1 - STRUCK)));
            case TWITCH -> u >= 1 ? 0 : forceN * 5 * u * StrictMath.exp(1 - 5 * u) * (1 - Curves.step(3 * u - 2));
            case TUG -> forceN * Curves.hump(u);
            case LAID_DOWN -> forceN * settled(u);
            case LIFTED -> -forceN * settled(u);
        };
    }

    /** Returns whether it leaves nothing behind. */
    boolean passes() {
        return kind != DisturbanceSpec.Kind.LAID_DOWN && kind != DisturbanceSpec.Kind.LIFTED;
    }

    double endS() {
        return startS + durationS;
    }

    /** Returns how much of a weight is there, u its share of the time that it takes to settle. */
    static double settled(double u) {
        if (u <= 0) {
            return 0;
        }
        if (u >= 1) {
            return 1;
        }
        // The weight arrives in the first 30 % and rings twice while it settles.
        double ringing = 0.15 * StrictMath.exp(-4 * u) * Sine.ofCycles(2 * u) * (1 - Curves.step(u));
        return Curves.step(u / 0.3) + ringing;
    }
}

package io.heldmark.detect;

import io.heldmark.detect.InventedEffort.Rise;
import java.util.List;
import java.util.Random;

/** The invented traces of {@link DetectionEvidenceTest}; everything from one seed. */
final class EvidenceScenes {
    static final List<String> EFFORTS = List.of(
            "explosive, exponential",
            "explosive, two stages",
            "explosive, half a cosine",
            "explosive, logistic",
            "explosive, power 1.5",
            "explosive, saturating power 1.25",
            "explosive, saturating power 2.25",
            "explosive, least jerk",
            "ramp",
            "eccentric",
            "sustained, tiring",
            "weak (20 to 30 N)",
            "strong (1,200 to 1,800 N)",
            "with hum of 1 to 6 N",
            "with drift to 0.5 N/s",
            "after pre-tension",
            "after a countermovement",
            "double effort",
            "two with 0.3 to 0.8 s between");

    static final List<String> QUIET = List.of(
            "noise alone", "hum of 50 Hz, 1 to 6 N", "hum of 60 Hz, 1 to 6 N", "drift to 0.5 N/s", "sway of 2 N");

    static final List<String> HANDLING = List.of(
            "weight of 10 to 70 N in 10 ms",
            "weight of 10 to 70 N in 30 to 60 ms",
            "weight of 10 to 70 N in 200 to 500 ms",
            "knock, 10 to 90 ms",
            "twitch, peak after 40 to 90 ms",
            "tug, 200 to 300 ms");

    /** Shapes of the explosive kinds, in their order. */
    static final Rise[] SHAPES = {
        Rise.EXPONENTIAL,
        Rise.TWO_STAGES,
        Rise.SIGMOID,
        Rise.LOGISTIC,
        Rise.POWER,
        Rise.SATURATING,
        Rise.SATURATING_LATE,
        Rise.LEAST_JERK
    };

    private static final double LENGTH_S = 60;

    private EvidenceScenes() {}

    /** A trace of efforts of one kind. */
    static InventedTrace efforts(String kind, double rateHz, double noiseN, long seed) {
        Random random = new Random(seed * 7919 + EFFORTS.indexOf(kind));
        InventedTrace trace = new InventedTrace(rateHz, LENGTH_S, seed).noise(noiseN);
        if (kind.startsWith("with hum")) {
            trace.hum(between(random, 1, 6));
        }
        if (kind.startsWith("with drift")) {
            trace.drift(between(random, -0.5, 0.5));
        }
        double at = 3;
        while (true) {
            InventedEffort effort = effort(kind, at, random, noiseN);
            if (effort.offsetS() > LENGTH_S - 2) {
                return trace;
            }
            trace.with(effort);
            boolean second = kind.startsWith("two") && trace.efforts.size() % 2 == 1;
            at = effort.offsetS() + (second ? between(random, 0.3, 0.8) : between(random, 1.8, 3.5));
        }
    }

    /** A trace without any effort, but with what the kind says. */
    static InventedTrace quiet(String kind, double rateHz, double noiseN, long seed) {
        Random random = new Random(seed * 31 + kind.length());
        InventedTrace trace = new InventedTrace(rateHz, LENGTH_S, 100 + seed).noise(noiseN);
        switch (kind) {
            case "hum of 50 Hz, 1 to 6 N" -> trace.hum(between(random, 1, 6));
            case "hum of 60 Hz, 1 to 6 N" -> {
                trace.hum(between(random, 1, 6));
                trace.humHz = 60;
            }
            case "drift to 0.5 N/s" -> trace.drift(between(random, -0.5, 0.5));
            case "sway of 2 N" -> {
                double hz = between(random, 0.2, 0.4);
                trace.others.add(t -> 2 * StrictMath.sin(2 * Math.PI * hz * t));
            }
            default -> {
                return trace;
            }
        }
        return trace;
    }

    /** A trace of handling without any effort. */
    static InventedTrace handling(String kind, double rateHz, double noiseN, long seed) {
        Random random = new Random(seed * 131 + HANDLING.indexOf(kind));
        InventedTrace trace = new InventedTrace(rateHz, LENGTH_S, 200 + seed).noise(noiseN);
        for (double at = 4; at < LENGTH_S - 8; at += between(random, 8, 12)) {
            double force = between(random, 10, 70);
            double until = at + between(random, 4, 5);
            switch (HANDLING.indexOf(kind)) {
                case 0 -> trace.laidDown(at, force, 0.01, until);
                case 1 -> trace.laidDown(at, force, between(random, 0.03, 0.06), until);
                case 2 -> trace.laidDown(at, force, between(random, 0.2, 0.5), until);
                case 3 -> trace.bump(at, between(random, 10, 110), between(random, 0.01, 0.09));
                case 4 -> trace.twitch(at, between(random, 8, 48), between(random, 0.04, 0.09));
                default -> trace.bump(at, between(random, 8, 48), between(random, 0.2, 0.3));
            }
        }
        return trace;
    }

    private static InventedEffort effort(String kind, double at, Random r, double noiseN) {
        double hold = between(r, 0.7, 1.5);
        double top = between(r, 100, 1200);
        Rise shape = SHAPES[r.nextInt(SHAPES.length)];
        double steep = between(r, 1.5, 12);
        int index = EFFORTS.indexOf(kind);
        if (index < SHAPES.length) {
            return InventedEffort.steep(at, top, SHAPES[index], steep, hold);
        }
        return switch (kind) {
            case "ramp" -> InventedEffort.ramp(at, between(r, 60, 800), between(r, 0.8, 2.5), hold);
            case "eccentric" ->
                new InventedEffort(
                        at, between(r, 150, 500), Rise.POWER, between(r, 2, 4), 0, 0.15, true, 0, 0.01, 0, 0, 0, 0, 1);
            case "sustained, tiring" ->
                InventedEffort.ramp(at, between(r, 100, 600), between(r, 0.5, 1.5), between(r, 6, 12))
                        .withFatigue(between(r, 0.01, 0.04));
            case "weak (20 to 30 N)" -> weak(at, r, noiseN);
            case "strong (1,200 to 1,800 N)" -> InventedEffort.steep(at, between(r, 1200, 1800), shape, steep, hold);
            case "after pre-tension" ->
                InventedEffort.steep(at, between(r, 200, 800), shape, steep, hold)
                        .withPreTension(between(r, 10, 40), between(r, 0.5, 1.2));
            case "after a countermovement" ->
                InventedEffort.steep(at, between(r, 200, 800), shape, steep, hold)
                        .withDip(between(r, 5, 40), between(r, 0.15, 0.3));
            case "double effort" ->
                InventedEffort.ramp(at, between(r, 100, 600), between(r, 0.3, 1), between(r, 2, 4))
                        .withValley(between(r, 0.3, 0.6));
            case "two with 0.3 to 0.8 s between" -> InventedEffort.steep(at, between(r, 100, 600), shape, steep, hold);
            default ->
                r.nextBoolean()
                        ? InventedEffort.steep(at, top, shape, steep, hold)
                        : InventedEffort.ramp(at, between(r, 60, 400), between(r, 0.8, 2), hold);
        };
    }

    /** From 20 N, or six standard deviations of the noise where that is more, to one and a half of it. */
    private static InventedEffort weak(double at, Random r, double noiseN) {
        double least = Math.max(20, 6 * noiseN);
        return InventedEffort.ramp(at, between(r, least, 1.5 * least), between(r, 0.3, 2), between(r, 1.5, 3))
                .withRelease(between(r, 0.1, 0.5), true);
    }

    private static double between(Random random, double low, double high) {
        return low + (high - low) * random.nextDouble();
    }
}

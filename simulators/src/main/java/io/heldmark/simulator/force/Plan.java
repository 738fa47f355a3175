package io.heldmark.simulator.force;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.DisturbanceSpec;
import io.heldmark.simulator.scenario.EffortSpec;
import io.heldmark.simulator.scenario.LimbSpec;
import io.heldmark.simulator.scenario.Scenario;
import java.util.ArrayList;
import java.util.List;

/**
 * All that an invented person does, worked out as far as it is asked for.
 *
 * <p>An effort that would begin before the last one of a limb is over, or within a second of that, is put off until then,
 * for all its limbs together. Two plans of the same scenario are the same, whatever was asked of them and when.
 */
final class Plan {
    /** Shortest rest between two efforts of a limb, in seconds. */
    private static final double REST_S = 1;

    /** How far ahead is planned: the longest pre-tension, and the longest lag. */
    private static final double AHEAD_S = 13;

    private final List<LimbSpec> limbs;
    private final List<EffortSpec> effortSpecs;
    private final List<DisturbanceSpec> disturbanceSpecs;
    private final List<EventSource> effortSources = new ArrayList<>();
    private final List<EventSource> disturbanceSources = new ArrayList<>();
    private final List<List<Effort>> efforts = new ArrayList<>();
    private final List<List<Disturbance>> disturbances = new ArrayList<>();
    private int planned;

    Plan(Scenario scenario) {
        limbs = scenario.limbs();
        effortSpecs = scenario.efforts();
        disturbanceSpecs = scenario.disturbances();
        SeededRandom random = new SeededRandom(scenario.seed());
        for (int i = 0; i < effortSpecs.size(); i++) {
            EffortSpec spec = effortSpecs.get(i);
            effortSources.add(new EventSource(spec.atS(), spec.repeat(), random.split("effort", i)));
        }
        for (int i = 0; i < disturbanceSpecs.size(); i++) {
            DisturbanceSpec spec = disturbanceSpecs.get(i);
            disturbanceSources.add(new EventSource(spec.atS(), spec.repeat(), random.split("disturbance", i)));
        }
        for (int i = 0; i < limbs.size(); i++) {
            efforts.add(new ArrayList<>());
            disturbances.add(new ArrayList<>());
        }
    }

    /** Plans all that begins up to a time, in seconds. */
    void extendTo(double timeS) {
        for (int next = earliest(effortSources); isDue(effortSources, next, timeS); next = earliest(effortSources)) {
            planEffort(next);
        }
        for (int next = earliest(disturbanceSources);
                isDue(disturbanceSources, next, timeS);
                next = earliest(disturbanceSources)) {
            planDisturbance(next);
        }
    }

    /** Returns the efforts of a limb so far, by rising time. */
    List<Effort> efforts(int limb) {
        return efforts.get(limb);
    }

    /** Returns the disturbances of a limb so far, by rising start. */
    List<Disturbance> disturbances(int limb) {
        return disturbances.get(limb);
    }

    private static boolean isDue(List<EventSource> sources, int next, double timeS) {
        return next >= 0 && sources.get(next).nextS() <= timeS + AHEAD_S;
    }

    private static int earliest(List<EventSource> sources) {
        int earliest = -1;
        for (int i = 0; i < sources.size(); i++) {
            double nextS = sources.get(i).nextS();
            boolean first = earliest < 0 || nextS < sources.get(earliest).nextS();
            if (nextS != Double.POSITIVE_INFINITY && first) {
                earliest = i;
            }
        }
        return earliest;
    }

    private void planEffort(int index) {
        EventSource source = effortSources.get(index);
        EffortSpec spec = effortSpecs.get(index);
        SeededRandom random = source.stream();
        List<Effort> drawn = draw(spec, source.nextS(), random);
        double lateS = 0;
        for (int limb = 0; limb < limbs.size(); limb++) {
            if (takesPart(spec.limbs(), limb)) {
                lateS = Math.max(lateS, overlapS(limb, drawn.get(limb)));
            }
        }
        double onsetS = source.nextS() + lateS;
        // The same streams give the same numbers, so that drawing again only moves the effort.
        List<Effort> placed = lateS > 0 ? draw(spec, onsetS, random) : drawn;
        for (int limb = 0; limb < limbs.size(); limb++) {
            if (takesPart(spec.limbs(), limb)) {
                efforts.get(limb).add(placed.get(limb));
            }
        }
        planned++;
        source.advance(onsetS);
    }

    private List<Effort> draw(EffortSpec spec, double onsetS, SeededRandom random) {
        List<Effort> drawn = new ArrayList<>();
        for (LimbSpec limb : limbs) {
            SeededRandom stream = random.split(limb.name());
            double lagS = spec.lagS().draw(stream.split("lag"));
            drawn.add(new Effort(spec, limb, planned + 1, onsetS + lagS, stream));
        }
        return drawn;
    }

    private double overlapS(int limb, Effort effort) {
        List<Effort> before = efforts.get(limb);
        if (before.isEmpty()) {
            return 0;
        }
        return before.get(before.size() - 1).endS() + REST_S - effort.startS();
    }

    private void planDisturbance(int index) {
        EventSource source = disturbanceSources.get(index);
        DisturbanceSpec spec = disturbanceSpecs.get(index);
        SeededRandom random = source.stream();
        for (int limb = 0; limb < limbs.size(); limb++) {
            SeededRandom stream = random.split(limbs.get(limb).name());
            double forceN = spec.forceN().draw(stream);
            boolean struck = spec.kind() == DisturbanceSpec.Kind.STRIKE;
            double durationS = spec.durationS().draw(struck ? random.split("strike") : stream);
            if (takesPart(spec.limbs(), limb)) {
                disturbances.get(limb).add(new Disturbance(spec.kind(), source.nextS(), forceN, durationS));
            }
        }
        source.advance(source.nextS());
    }

    private boolean takesPart(List<String> names, int limb) {
        return names.isEmpty() || names.contains(limbs.get(limb).name());
    }
}

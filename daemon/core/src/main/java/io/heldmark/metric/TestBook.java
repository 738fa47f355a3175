package io.heldmark.metric;

import io.heldmark.metric.JointTorque.Origin;
import io.heldmark.metric.StatedTest.Mode;
import io.heldmark.metric.StatedTest.Movement;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;

/**
 * Puts the contractions of an input into the tests that the user says were made, and works out each test's figures, ratios of
 * two tests, and torque over the angle.
 *
 * <p><b>Statistic.</b> Mean of the first three accepted trials, both limbs alike; further trials are listed and stay out of it.
 * Not accepted are trials with lost samples, overload or a converter's fault. Fatigue is of all accepted trials.
 *
 * <p><b>Moved boundaries.</b> The last state of a contraction and of an effort counts.
 *
 * <p><b>Memory.</b> Two figures with their budgets per contraction that belongs to a test, about a kilobyte.
 */
public final class TestBook {
    /** How many trials the means are of. */
    public static final int COUNTED = 3;

    /** The statistic in words, for people. */
    public static final String STATISTIC = "mean of the first 3 accepted trials";

    private static final Set<String> REJECTED = Set.of(
            ContractionFlag.GAP_INSIDE.id(),
            ContractionFlag.SAMPLES_LOST.id(),
            ContractionFlag.ONSET_NOT_SEEN.id(),
            ContractionFlag.OVERLOAD.id(),
            ContractionFlag.ADC_FAULT.id());

    /**
     * A torque that another device measured, under the name of its test.
     *
     * @param test name of the test.
     * @param torque the torque.
     */
    public record Imported(String test, JointTorque torque) {}

    private record Trial(Limb limb, ChannelInfo channel, boolean accepted, MetricValue force, MetricValue torque) {}

    private record Pair(long left, long right, MetricValue asymmetry) {}

    private final List<StatedTest> tests;
    private final List<Imported> imported;
    private final double mismatchRelativeU;
    private final List<Map<Long, Trial>> trials = new ArrayList<>();
    private final Map<Long, Pair> efforts = new LinkedHashMap<>();

    /**
     * Makes a book.
     *
     * @param tests the tests; where they overlap the first one has the trial.
     * @param imported torques of other devices.
     * @param mismatchRelativeU of the cells, as found by comparing them; NaN where they were not compared.
     */
    public TestBook(List<StatedTest> tests, List<Imported> imported, double mismatchRelativeU) {
        this.tests = List.copyOf(tests);
        this.imported = List.copyOf(imported);
        this.mismatchRelativeU = mismatchRelativeU;
        tests.forEach(test -> trials.add(new LinkedHashMap<>()));
    }

    /**
     * Takes a finished contraction, found or moved by hand.
     *
     * @param onsetNs its onset on the input's own axis.
     */
    public void onContraction(Contraction c, ChannelInfo channel, long onsetNs) {
        boolean accepted = c.flags().stream().noneMatch(REJECTED::contains);
        Trial trial = new Trial(c.limb(), channel, accepted, metric(c, PeakForce.ID), metric(c, PeakTorque.ID));
        for (int i = 0; i < tests.size(); i++) {
            boolean known = trials.get(i).containsKey(c.id()); // A moved onset takes no trial to another test.
            if (known || (!anywhere(c.id()) && tests.get(i).holds(onsetNs))) {
                trials.get(i).put(c.id(), trial);
                return;
            }
        }
    }

    /** Takes an effort of both limbs. */
    public void onEffort(Effort e) {
        if (anywhere(e.leftContractionId()) || anywhere(e.rightContractionId())) {
            efforts.put(e.id(), new Pair(e.leftContractionId(), e.rightContractionId(), e.asymmetry()));
        }
    }

    private boolean anywhere(long contractionId) {
        return trials.stream().anyMatch(map -> map.containsKey(contractionId));
    }

    private static MetricValue metric(Contraction c, String id) {
        for (MetricValue value : c.metrics()) {
            if (value.id().equals(id)) {
                return value;
            }
        }
        return MetricValue.notComputed(id, "was not asked for");
    }

    /** Returns the figures of every test, in the order of the tests. */
    public List<TestResult> results() {
        List<TestResult> results = new ArrayList<>();
        for (int i = 0; i < tests.size(); i++) {
            List<TestResult.OfLimb> limbs = new ArrayList<>();
            for (Limb limb : List.of(Limb.LEFT, Limb.RIGHT, Limb.NONE)) {
                TestResult.OfLimb of = ofLimb(i, limb);
                if (!of.contractionIds().isEmpty()) {
                    limbs.add(of);
                }
            }
            results.add(new TestResult(tests.get(i), limbs, asymmetry(i)));
        }
        return results;
    }

    private TestResult.OfLimb ofLimb(int test, Limb limb) {
        List<Long> ids = new ArrayList<>();
        List<Long> accepted = new ArrayList<>();
        trials.get(test).forEach((id, trial) -> {
            if (trial.limb() == limb) {
                ids.add(id);
                if (trial.accepted()) {
                    accepted.add(id);
                }
            }
        });
        List<Long> counted = first(accepted);
        List<MetricValue> forces = forces(test, accepted);
        return new TestResult.OfLimb(
                limb,
                ids,
                counted,
                SetAsymmetry.meanOf("force.peak.mean", forces(test, counted)),
                torque(test, limb, counted),
                MetricRegistry.sets().stream()
                        .map(metric -> metric.compute(forces))
                        .toList());
    }

    private static <T> List<T> first(List<T> all) {
        return all.subList(0, Math.min(COUNTED, all.size()));
    }

    private List<MetricValue> forces(int test, List<Long> ids) {
        return ids.stream().map(id -> trial(test, id).force()).toList();
    }

    private Trial trial(int test, long id) {
        Trial trial = trials.get(test).get(id);
        if (trial == null) {
            throw new IllegalArgumentException("no such trial: id=" + id);
        }
        return trial;
    }

    private JointTorque torque(int test, Limb limb, List<Long> counted) {
        List<MetricValue> torques =
                counted.stream().map(id -> trial(test, id).torque()).toList();
        Set<String> cells = new TreeSet<>();
        counted.forEach(id -> cells.add(cell(trial(test, id).channel())));
        Movement m = tests.get(test).movement();
        return new JointTorque(
                SetAsymmetry.meanOf("torque.peak.mean", torques),
                limb,
                m.muscle(),
                tests.get(test).conditions(),
                m.hipPosture(),
                m.arrangement(),
                m.action(),
                m.speedDegPerS(),
                Origin.STATION,
                cells.size() == 1 ? cells.iterator().next() : "");
    }

    private static String cell(ChannelInfo channel) {
        return channel.link() + "#" + channel.deviceChannel();
    }

    private MetricValue asymmetry(int test) {
        Mode mode = tests.get(test).mode();
        List<Pair> pairs = efforts.values().stream()
                .filter(p -> trials.get(test).containsKey(p.left())
                        && trials.get(test).containsKey(p.right()))
                .toList();
        if (mode == Mode.UNKNOWN) {
            return MetricValue.notComputed(
                    SetAsymmetry.ID, "nobody said whether both limbs worked at once or one at a time");
        }
        return mode == Mode.UNILATERAL ? oneByOne(test, pairs) : paired(test, pairs, mode == Mode.ONE_LOAD_PATH);
    }

    private MetricValue paired(int test, List<Pair> pairs, boolean oneLoadPath) {
        List<MetricValue> indices = pairs.stream()
                .filter(p -> trial(test, p.left()).accepted()
                        && trial(test, p.right()).accepted())
                .map(Pair::asymmetry)
                .toList();
        return SetAsymmetry.paired(first(indices), oneLoadPath);
    }

    private MetricValue oneByOne(int test, List<Pair> pairs) {
        if (!pairs.isEmpty()) {
            return MetricValue.notComputed(
                    SetAsymmetry.ID,
                    "both limbs worked at once (contractions " + pairs.get(0).left() + " and "
                            + pairs.get(0).right() + "), though the test is of one at a time");
        }
        List<Long> left = ofLimb(test, Limb.LEFT).countedIds();
        List<Long> right = ofLimb(test, Limb.RIGHT).countedIds();
        CellPair cells = left.isEmpty() || right.isEmpty()
                ? CellPair.UNKNOWN
                : CellPair.of(
                        trial(test, left.get(0)).channel(),
                        trial(test, right.get(0)).channel(),
                        mismatchRelativeU);
        return SetAsymmetry.oneByOne(forces(test, left), forces(test, right), cells);
    }

    /**
     * Puts one test's torque over another's, for each limb that has trials in either.
     *
     * @throws IllegalArgumentException if there is no test of that name, naming those there are.
     */
    public List<TestResult.OfTwo> ratio(String agonist, String antagonist) {
        List<TestResult.OfTwo> ratios = new ArrayList<>();
        requireTest(agonist);
        requireTest(antagonist);
        for (Limb limb : List.of(Limb.LEFT, Limb.RIGHT, Limb.NONE)) {
            JointTorque a = torque(agonist, limb);
            JointTorque b = torque(antagonist, limb);
            if (a != null && b != null) {
                ratios.add(new TestResult.OfTwo(limb, agonist, antagonist, TorqueRatio.of(a, b, slope(a), slope(b))));
            }
        }
        return ratios;
    }

    private double slope(JointTorque torque) {
        List<JointTorque> group = angles().get(torque.limb() + " " + torque.muscle());
        return group == null ? Double.NaN : AngleTorqueProfile.relativeSlopePerDeg(torque, group);
    }

    private void requireTest(String name) {
        Set<String> names = new TreeSet<>();
        tests.forEach(test -> names.add(test.name()));
        imported.forEach(torque -> names.add(torque.test()));
        if (!names.contains(name)) {
            throw new IllegalArgumentException(
                    "no test is called " + name + "; there are: " + String.join(", ", names));
        }
    }

    /** Returns a test's torque of a limb; absent where the limb has no trial in it. */
    private @Nullable JointTorque torque(String name, Limb limb) {
        for (Imported each : imported) {
            if (each.test().equals(name) && each.torque().limb() == limb) {
                return each.torque();
            }
        }
        for (int i = 0; i < tests.size(); i++) {
            if (tests.get(i).name().equals(name)) {
                TestResult.OfLimb of = ofLimb(i, limb);
                return of.contractionIds().isEmpty() ? null : of.torque();
            }
        }
        return null;
    }

    /** Returns torque over the angle for every limb and muscle that was tested at two angles or more. */
    public List<TestResult.OfAngles> profiles() {
        List<TestResult.OfAngles> profiles = new ArrayList<>();
        for (List<JointTorque> group : angles().values()) {
            if (group.size() > 1) {
                JointTorque one = group.get(0);
                profiles.add(new TestResult.OfAngles(one.limb(), one.muscle(), AngleTorqueProfile.of(group)));
            }
        }
        return profiles;
    }

    /** Torques with a stated angle by limb and muscle. */
    private Map<String, List<JointTorque>> angles() {
        Map<String, List<JointTorque>> groups = new LinkedHashMap<>();
        for (Limb limb : List.of(Limb.LEFT, Limb.RIGHT, Limb.NONE)) {
            for (StatedTest test : tests) {
                JointTorque torque = torque(test.name(), limb);
                boolean stated = !test.movement().muscle().isEmpty()
                        && !Double.isNaN(test.conditions().angleDeg());
                if (torque != null && stated) {
                    groups.computeIfAbsent(limb + " " + torque.muscle(), k -> new ArrayList<>())
                            .add(torque);
                }
            }
        }
        return groups;
    }
}

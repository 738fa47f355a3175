package io.heldmark.metric;

import static io.heldmark.metric.MonteCarlo.assertAgrees;
import static io.heldmark.metric.MonteCarlo.meanNoise;
import static io.heldmark.metric.MonteCarlo.normal;
import static io.heldmark.metric.MonteCarlo.rectangular;

import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.ZeroReference;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Every form of propagation against draws of its inputs (JCGM 101:2008), to 5 %. The command that prints the figures:
 * {@code mvn -pl daemon/core -am test -Dtest=MonteCarloTest -Dsurefire.failIfNoSpecifiedTests=false}.
 */
class MonteCarloTest {
    private static final double U_SLOPE = 0.002;
    private static final double U_ZERO = 0.4;
    private static final double HOURS = 0.5;
    private static final double DRIFT_N_PER_HOUR = 1.5;
    private static final double COUNT_N = 1;
    private static final double NOISE_N = 3;
    private static final double RHO = 0.6;
    private static final double U_ONSET_S = 0.003;

    /** F = 400 (1 - exp(-t / 0.1 s)): a rise like those of people. */
    private static double rise(double t) {
        return t <= 0 ? 0 : 400 * (1 - Math.exp(-t / 0.1));
    }

    private static double slope(double t) {
        return 4000 * Math.exp(-t / 0.1);
    }

    private static InventedWindow window() {
        InventedWindow w = InventedWindow.of(1000, 1, MonteCarloTest::rise);
        w.relativeU = U_SLOPE;
        w.zeroU = U_ZERO;
        w.sinceZeroS = HOURS * 3600;
        w.resolution = COUNT_N;
        w.restingNoiseN = NOISE_N;
        w.correlation = (1 + RHO) / (1 - RHO);
        w.onsetU = U_ONSET_S * 1e9;
        w.offsetU = U_ONSET_S * 1e9;
        w.cell = new CellCalibration(Double.NaN, DRIFT_N_PER_HOUR, 0, "", List.of());
        return w;
    }

    /** Error of zero, drift and rounding: what every force has, and differences have not (but for rounding). */
    private static double level(Random r) {
        return normal(r, U_ZERO) + rectangular(r, DRIFT_N_PER_HOUR * HOURS) + rectangular(r, COUNT_N / 2);
    }

    @Test
    void shouldAgreeForASingleForce() {
        double u = DeviceUncertainty.of(window()).mean(512, 1, 0).standardUncertainty();
        assertAgrees("single force", u, 1, r -> 512 * normal(r, U_SLOPE) + level(r) + normal(r, NOISE_N));
    }

    @Test
    void shouldAgreeForAMeanOfCorrelatedSamples() {
        double u = DeviceUncertainty.of(window()).mean(300, 100, 0.1).standardUncertainty();
        assertAgrees(
                "mean of 100 ms", u, 2, r -> 300 * normal(r, U_SLOPE) + level(r) + meanNoise(r, NOISE_N, RHO, 100));
    }

    @Test
    void shouldAgreeForAForceAtAnInstant() {
        double at = 0.1;
        Reading reading = Reading.at(rise(at), slope(at));
        double u = DeviceUncertainty.of(window()).at(reading, U_ONSET_S).standardUncertainty();
        assertAgrees(
                "force at 100 ms",
                u,
                3,
                r -> rise(at + normal(r, U_ONSET_S)) * (1 + normal(r, U_SLOPE))
                        + level(r)
                        + normal(r, NOISE_N)
                        - rise(at));
    }

    @Test
    void shouldAgreeForADifference() {
        Reading to = Reading.mean(400, 100, 0.1);
        Reading from = Reading.mean(30, 200, 0.2);
        double u = DeviceUncertainty.of(window()).difference(to, from, 0).standardUncertainty();
        assertAgrees("difference of two means", u, 4, r -> {
            double g = 1 + normal(r, U_SLOPE);
            double common = normal(r, U_ZERO) + rectangular(r, DRIFT_N_PER_HOUR * HOURS);
            double above = 400 * g + common + rectangular(r, COUNT_N / 2) + meanNoise(r, NOISE_N, RHO, 100);
            double below = 30 * g + common + rectangular(r, COUNT_N / 2) + meanNoise(r, NOISE_N, RHO, 200);
            return above - below - 370;
        });
    }

    @Test
    void shouldAgreeForARateOfForceDevelopment() {
        double from = 0.02;
        double over = 0.1;
        Reading high = Reading.at(rise(from + over), slope(from + over));
        Reading low = Reading.at(rise(from), slope(from));
        double u =
                DeviceUncertainty.of(window()).slope(high, low, over, U_ONSET_S).standardUncertainty();
        double truth = (rise(from + over) - rise(from)) / over;
        assertAgrees("slope over 100 ms", u, 5, r -> {
            double shift = normal(r, U_ONSET_S);
            double g = 1 + normal(r, U_SLOPE);
            double zero = normal(r, U_ZERO);
            double above = rise(from + over + shift) * g + zero + rectangular(r, COUNT_N / 2) + normal(r, NOISE_N);
            double below = rise(from + shift) * g + zero + rectangular(r, COUNT_N / 2) + normal(r, NOISE_N);
            return (above - below) / over - truth;
        });
    }

    @Test
    void shouldAgreeForTheImpulseOfAWholeContraction() {
        double restN = 6;
        InventedWindow w = InventedWindow.of(200, 0.5, t -> restN + 300 * Math.sin(Math.PI * (t + 0.02) / 0.54));
        w.relativeU = 0.004;
        w.restingLevelN = restN;
        w.restingNoiseN = NOISE_N;
        w.resolution = COUNT_N;
        w.onsetU = 4e6;
        w.offsetU = 8e6;
        double u = new TotalImpulse().compute(w).quantity().standardUncertainty();
        assertAgrees("integral", u, 6, r -> impulseError(r, restN));
    }

    /** One impulse as it would come out: slope, base, rounding, noise of every sample, both boundaries moved. */
    private static double impulseError(Random r, double restN) {
        double g = 1 + normal(r, 0.004);
        double baseN = restN * g + meanNoise(r, NOISE_N, 0, 40);
        double roundedN = rectangular(r, COUNT_N / 2);
        double fromS = normal(r, 0.004);
        double toS = 0.5 + normal(r, 0.008);
        int n = 101;
        double stepS = (toS - fromS) / (n - 1);
        double sum = 0;
        double truth = 0;
        for (int i = 0; i < n; i++) {
            double weight = i == 0 || i == n - 1 ? 0.5 : 1;
            double t = fromS + i * stepS;
            double f = restN + 300 * Math.sin(Math.PI * (t + 0.02) / 0.54);
            sum += weight * stepS * (f * g + normal(r, NOISE_N) + roundedN - baseN);
            truth += weight * 0.005 * 300 * Math.sin(Math.PI * (i * 0.005 + 0.02) / 0.54);
        }
        return sum - truth;
    }

    @Test
    void shouldAgreeForATorqueWithTheLimbsWeight() {
        double forceN = 380;
        double leverM = 0.365;
        UncertaintyBudget force = DeviceUncertainty.of(window()).mean(forceN, 1, 0);
        UncertaintyBudget torque = Propagation.torque(force, forceN, leverM, 0.005);
        UncertaintyBudget weight =
                UncertaintyBudget.builder().add(UncertaintySource.GRAVITY, 0.6).build();
        UncertaintyBudget all = Propagation.withGravity(torque, weight);
        double truth = forceN * leverM + 12.16;
        assertAgrees("torque, weight added", all.standardUncertainty(), 7, r -> {
            double f = forceN * (1 + normal(r, U_SLOPE)) + level(r) + normal(r, NOISE_N);
            return f * (leverM + normal(r, 0.005)) + 12.16 + normal(r, 0.6) - truth;
        });
    }

    @Test
    void shouldAgreeForForcePerMass() {
        UncertaintyBudget force = DeviceUncertainty.of(window()).mean(380, 1, 0);
        for (double b : new double[] {1, 0.67}) {
            double u = Propagation.perMass(force, 380, 78, 0.8, b).standardUncertainty();
            assertAgrees(
                    "per mass to the power " + b,
                    u,
                    8,
                    r -> (380 * (1 + normal(r, U_SLOPE)) + level(r) + normal(r, NOISE_N))
                                    / Math.pow(78 + normal(r, 0.8), b)
                            - 380 / Math.pow(78, b));
        }
    }

    @Test
    void shouldAgreeForThePullThatIsOffItsLine() {
        InventedWindow w = window();
        w.conditions = TestConditions.UNKNOWN.toBuilder().pullAngleLimitDeg(20).build();
        double u = DeviceUncertainty.of(w).mean(600, 1, 0).standardUncertainty();
        // The force along the line is 600 N; the cell reads it along the pull, up to 20 degrees off.
        assertAgrees("force, pull up to 20 degrees off", u, 9, r -> {
            double readN = 600 * (1 + normal(r, U_SLOPE)) + level(r) + normal(r, NOISE_N);
            double alongLineN = 600 * Math.cos(Math.toRadians(20) * r.nextDouble());
            return readN - alongLineN;
        });
    }

    @Test
    void shouldAgreeBeyondTheCalibratedRange() {
        InventedWindow w = window();
        w.cell = new CellCalibration(400, DRIFT_N_PER_HOUR, 0, "", List.of());
        double u = DeviceUncertainty.of(w).mean(612, 100, 0.1).standardUncertainty();
        // A parabola through 0 and 400 N whose height in the middle is uSlope x 400 N, continued to 612 N.
        assertAgrees("612 N, calibrated to 400 N", u, 10, r -> {
            double middleN = normal(r, U_SLOPE * 400);
            double curveN = middleN * 612 * (612 - 400) / (200.0 * 200.0);
            return 612 * normal(r, U_SLOPE) + curveN + level(r) + meanNoise(r, NOISE_N, RHO, 100);
        });
    }

    @Test
    void shouldAgreeForACalibrationCurve() {
        // A parabola with correlated coefficients; forces from a zero at 60 N. Lower triangle of the covariance's root.
        double[][] root = {{0.3, 0, 0}, {-0.002, 0.0015, 0}, {2e-6, -3e-6, 1e-6}};
        InventedWindow w = window();
        w.zeroLevelN = 60;
        w.zeroU = 0;
        w.resolution = 0;
        w.restingNoiseN = 0;
        w.sinceZeroS = 0;
        w.cell = new CellCalibration(Double.NaN, 0, 0.0005, "mass", covariance(root));
        double u = DeviceUncertainty.of(w).mean(500, 1, 0).standardUncertainty();
        assertAgrees("coefficients with covariance", u, 11, r -> {
            double[] g = {r.nextGaussian(), r.nextGaussian(), r.nextGaussian()};
            double error = 0;
            for (int k = 0; k < 3; k++) {
                double c = root[k][0] * g[0] + root[k][1] * g[1] + root[k][2] * g[2];
                error += c * (Math.pow(560, k) - Math.pow(60, k));
            }
            return error + 500 * normal(r, 0.0005);
        });
    }

    private static List<Double> covariance(double[][] root) {
        Double[] v = new Double[9];
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) {
                v[3 * i + j] = root[i][0] * root[j][0] + root[i][1] * root[j][1] + root[i][2] * root[j][2];
            }
        }
        return List.of(v);
    }

    @Test
    void shouldAgreeForTheLogRatioOfCellsWithOneReference() {
        CellPair cells = CellPair.of(cell("mass 20 kg"), cell("mass 20 kg"), Double.NaN);
        double u = asymmetryU(cells);
        double own = Math.sqrt(U_SLOPE * U_SLOPE - 0.0015 * 0.0015);
        assertAgrees("log ratio, one reference", u, 12, r -> {
            double common = normal(r, 0.0015);
            double left = 412 * (1 + common + normal(r, own)) + level(r) + meanNoise(r, NOISE_N, RHO, 100);
            double right = 368 * (1 + common + normal(r, own)) + level(r) + meanNoise(r, NOISE_N, RHO, 100);
            return 100 * (Math.log(left / right) - Math.log(412.0 / 368));
        });
    }

    @Test
    void shouldAgreeForTheLogRatioOfComparedCells() {
        double u = asymmetryU(CellPair.of(cell("a"), cell("b"), 0.006));
        assertAgrees("log ratio, cells compared", u, 13, r -> {
            double left = 412 + level(r) + meanNoise(r, NOISE_N, RHO, 100);
            double right = 368 + level(r) + meanNoise(r, NOISE_N, RHO, 100);
            return 100 * (Math.log(left / right) + normal(r, 0.006) - Math.log(412.0 / 368));
        });
    }

    private static double asymmetryU(CellPair cells) {
        return new LogAsymmetry()
                .compute(peak(412), peak(368), cells)
                .quantity()
                .standardUncertainty();
    }

    private static MetricValue peak(double forceN) {
        return MetricValue.of(
                "force.peak", forceN, DeviceUncertainty.of(window()).mean(forceN, 100, 0.1), "N");
    }

    private static ChannelInfo cell(String reference) {
        CellCalibration c = new CellCalibration(Double.NaN, Double.NaN, 0.0015, reference, List.of());
        return new ChannelInfo(0, "l", "", 0, "c", Limb.LEFT, 1000, 0, 0, "N", "station", U_SLOPE, COUNT_N, c);
    }

    @Test
    void shouldAgreeForTheDriftOfWhatTheLevelReads() {
        ChannelInfo channel = cell("");
        ZeroReference zero = ZeroReference.taken(0, 0.2, 0);
        long twoHoursNs = 7_200_000_000_000L;
        double u = DeviceUncertainty.of(channel, zero, twoHoursNs).ofMean(50, NOISE_N, 25);
        // Where nobody says how far a zero drifts: 0.5 N in an hour.
        assertAgrees(
                "level, two hours after the zero",
                u,
                14,
                r -> 50 * normal(r, U_SLOPE)
                        + normal(r, 0.2)
                        + rectangular(r, 0.5 * 2)
                        + rectangular(r, COUNT_N / 2)
                        + normal(r, NOISE_N / 5));
    }
}
